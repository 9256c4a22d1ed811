"""A trial as one page: tables, and plots of rates with their intervals.

Law: whatever came out of a file is escaped before it stands on the page.
"""

from collections.abc import Iterator
from html import escape
from typing import Any

from farend_sim.answers.answer import Table
from farend_sim.answers.page import document, table_html
from farend_sim.answers.svg import COLOURS, ticks
from farend_sim.scheme_lab.trial.tally import RATES

_WIDTH, _LEFT, _ROW = 720, 150, 16
_MEANS = {
    "first": "done at the first try",
    "done": "done at last",
    "lost": "silently lost",
    "refused": "refused at last",
    "other": "did something else",
}


def page(title: str, settings: str, told: dict[str, Any]) -> str:
    """Return the whole page."""
    return document(title, _body(settings, told))


def _body(settings: str, told: dict[str, Any]) -> Iterator[str]:
    yield f"<p>{escape(settings)} Simulated pairs, people and keypads; bars are 95 % intervals.</p>"
    yield _legend(list(told["schemes"]))
    yield from (_plot(rate, told) for rate in RATES)
    yield from (table_html(_table(name, groups)) for name, groups in told["schemes"].items())
    if told["paired"]:
        yield table_html(_pairs(told["paired"]))


def _legend(names: list[str]) -> str:
    """Return which colour is which scheme."""
    marks = (
        f'<span style="color:{COLOURS[at % len(COLOURS)]}">&#9679;</span> {escape(name)}'
        for at, name in enumerate(names)
    )
    return f"<p>{' &nbsp; '.join(marks)}</p>"


def _plot(rate: str, told: dict[str, Any]) -> str:
    """Return one rate of every scheme by class: a dot, and a bar for its interval."""
    names = list(told["schemes"])
    groups = list(told["schemes"][names[0]])
    top = max(told["schemes"][n][g][rate]["high"] for n in names for g in groups)
    bottom = min(told["schemes"][n][g][rate]["low"] for n in names for g in groups)
    span = top - bottom
    lines, y = [], 30
    for group in groups:
        lines.append(f'<text x="0" y="{y + 12}">{escape(group)}</text>')
        for at, name in enumerate(names):
            lines.append(_dot(told["schemes"][name][group][rate], bottom, span, y, at, name))
            y += _ROW
        y += 6
    axis = "".join(_tick(at, bottom, span, y) for at in ticks(bottom, top))
    return (
        f"<h2>{_MEANS[rate]}, %</h2>"
        f'<svg viewBox="0 0 {_WIDTH} {y + 24}" role="img">{axis}{"".join(lines)}</svg>'
    )


def _x(share: float, bottom: float, span: float) -> float:
    return _LEFT + (share - bottom) / span * (_WIDTH - _LEFT - 60)


def _dot(of: dict[str, float], bottom: float, span: float, y: int, at: int, name: str) -> str:
    colour = COLOURS[at % len(COLOURS)]
    low, x, high = (_x(of[key], bottom, span) for key in ("low", "share", "high"))
    told = f"{name}: {100 * of['share']:.2f} % ({100 * of['low']:.2f} to {100 * of['high']:.2f})"
    return (
        f'<g stroke="{colour}" fill="{colour}"><title>{escape(told)}</title>'
        f'<line x1="{low:.1f}" x2="{high:.1f}" y1="{y + 8}" y2="{y + 8}" stroke-width="3"/>'
        f'<circle cx="{x:.1f}" cy="{y + 8}" r="4"/></g>'
    )


def _tick(share: float, bottom: float, span: float, y: int) -> str:
    x = _x(share, bottom, span)
    return (
        f'<line x1="{x:.1f}" x2="{x:.1f}" y1="20" y2="{y}" stroke="#ddd"/>'
        f'<text x="{x:.1f}" y="{y + 16}" text-anchor="middle">{round(100 * share, 6):g}</text>'
    )


def _table(name: str, groups: dict[str, Any]) -> Table:
    head = ("plants", "commands", *(f"{_MEANS[rate]}, %" for rate in RATES), "keys", "seconds")
    rows = (
        (
            group,
            of["commands"],
            *(100 * of[rate]["share"] for rate in RATES),
            of["keys_per_job"],
            of["seconds_per_job"],
        )
        for group, of in groups.items()
    )
    return Table(name, head, tuple(rows))


def _pairs(paired: list[dict[str, Any]]) -> Table:
    rows = (
        (
            f"{one['scheme']} less {one['less']}, {_MEANS[one['rate']]}",
            100 * one["difference"],
            f"{100 * one['low']:+.2f} to {100 * one['high']:+.2f}",
        )
        for one in paired
    )
    head = ("rate", "difference, %", "95 % interval")
    return Table("On the same draws", head, tuple(rows))
