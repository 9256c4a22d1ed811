"""A trial as one page: tables and plots drawn by hand, nothing fetched from anywhere.

Law: whatever came out of a file is escaped before it stands on the page.
"""

import math
from collections.abc import Iterator
from html import escape
from typing import Any

from farend_sim.scheme_lab.tally import RATES

_COLOURS = ("#1b6ca8", "#c8553d", "#3c8d5a", "#8a5fa8", "#a08a2c", "#555555")
_WIDTH, _LEFT, _ROW = 720, 150, 16
_STEPS = tuple(part * 10.0**power for power in range(-5, 0) for part in (1, 2, 5))
"""Between ticks."""
_STYLE = (
    "body{font:15px sans-serif;max-width:60em;margin:2em auto;color:#222}"
    "table{border-collapse:collapse;margin:1em 0}td,th{padding:.2em .7em;text-align:right}"
    "td:first-child,th:first-child{text-align:left}tr:nth-child(even){background:#f3f3f3}"
    "svg text{font:12px sans-serif}"
)
_MEANS = {
    "first": "done at the first try",
    "done": "done at last",
    "lost": "silently lost",
    "refused": "refused at last",
    "other": "did something else",
}


def page(title: str, settings: str, told: dict[str, Any]) -> str:
    """Return the whole page."""
    return "\n".join(
        (
            "<!DOCTYPE html>",
            f'<html lang="en"><meta charset="utf-8"><title>{escape(title)}</title>',
            f"<style>{_STYLE}</style>",
            f"<h1>{escape(title)}</h1><p>{escape(settings)}</p>",
            "<p>Simulated pairs, people and keypads; bars are 95 % intervals. "
            "No figure here proves a real pair safe.</p>",
            _legend(list(told["schemes"])),
            *(_plot(rate, told) for rate in RATES),
            *(_table(name, groups) for name, groups in told["schemes"].items()),
            _pairs(told["paired"]),
            "</html>",
        )
    )


def _legend(names: list[str]) -> str:
    """Return which colour is which scheme."""
    marks = (
        f'<span style="color:{_COLOURS[at % len(_COLOURS)]}">&#9679;</span> {escape(name)}'
        for at, name in enumerate(names)
    )
    return f"<p>{' &nbsp; '.join(marks)}</p>"


def _plot(rate: str, told: dict[str, Any]) -> str:
    """Return one rate of every scheme by class: a dot, and a bar for its interval."""
    names = list(told["schemes"])
    groups = list(told["schemes"][names[0]])
    top = max(told["schemes"][n][g][rate]["high"] for n in names for g in groups)
    bottom = min(told["schemes"][n][g][rate]["low"] for n in names for g in groups)
    step = next(each for each in _STEPS if each >= (top - bottom) / 6)
    bottom = math.floor(bottom / step + 1e-9) * step
    parts = max(1, math.ceil((top - bottom) / step - 1e-9))
    span = parts * step
    lines, y = [], 30
    for group in groups:
        lines.append(f'<text x="0" y="{y + 12}">{escape(group)}</text>')
        for at, name in enumerate(names):
            lines.append(_dot(told["schemes"][name][group][rate], bottom, span, y, at, name))
            y += _ROW
        y += 6
    ticks = "".join(_tick(bottom + step * part, bottom, span, y) for part in range(parts + 1))
    return (
        f"<h2>{_MEANS[rate]}, %</h2>"
        f'<svg width="{_WIDTH}" height="{y + 24}" role="img">{ticks}{"".join(lines)}</svg>'
    )


def _x(share: float, bottom: float, span: float) -> float:
    return _LEFT + (share - bottom) / span * (_WIDTH - _LEFT - 60)


def _dot(of: dict[str, float], bottom: float, span: float, y: int, at: int, name: str) -> str:
    colour = _COLOURS[at % len(_COLOURS)]
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


def _table(name: str, groups: dict[str, Any]) -> str:
    head = "".join(f"<th>{_MEANS[rate]}</th>" for rate in RATES)
    return (
        f"<h2>{escape(name)}</h2><table><tr><th>plants</th><th>commands</th>{head}"
        f"<th>keys</th><th>seconds</th></tr>{''.join(_rows(groups))}</table>"
    )


def _rows(groups: dict[str, Any]) -> Iterator[str]:
    for group, of in groups.items():
        cells = "".join(f"<td>{100 * of[rate]['share']:.2f}</td>" for rate in RATES)
        yield (
            f"<tr><td>{escape(group)}</td><td>{of['commands']}</td>{cells}"
            f"<td>{of['keys_per_job']:.1f}</td><td>{of['seconds_per_job']:.1f}</td></tr>"
        )


def _pairs(paired: list[dict[str, Any]]) -> str:
    if not paired:
        return ""
    rows = "".join(
        f"<tr><td>{escape(one['scheme'])} less {escape(one['less'])}, {_MEANS[one['rate']]}</td>"
        f"<td>{100 * one['difference']:+.2f}</td>"
        f"<td>{100 * one['low']:+.2f} to {100 * one['high']:+.2f}</td></tr>"
        for one in paired
    )
    return f"<h2>On the same draws, %</h2><table>{rows}</table>"
