"""Two drawings of a lesson: the route with its trouble, and the time with its holds."""

from collections.abc import Iterator
from html import escape

from farend_sim.drill.lesson.debrief import Debrief
from farend_sim.said import gauge, length

_WIDTH, _LEFT, _RIGHT = 800, 90, 20
_SPAN = _WIDTH - _LEFT - _RIGHT
_COLOURS = {"keys": "#777777", "reading": "#0072b2", "spoiled": "#d55e00", "hold": "#e69f00"}
"""Colours that the colour-blind can tell apart; every bar has its word beside it too."""


def line_svg(lesson: Debrief, feet: bool) -> str:
    """The route, near to far: sections, joints, taps; what is wrong, and what was believed."""
    return _svg(130, "The route with what is wrong", _line(lesson, feet))


def timeline_svg(lesson: Debrief) -> str:
    """Keys, readings and holds along the time."""
    return _svg(120, "Keys, readings and holds in time", _time(lesson))


def _svg(height: int, title: str, inside: Iterator[str]) -> str:
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH} {height}" role="img">',
            f"<title>{escape(title)}</title>",
            *inside,
            "</svg>",
        )
    )


def _text(x: float, y: float, text: str, anchor: str = "middle") -> str:
    return f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(text)}</text>'


def _rule(x1: float, y1: float, x2: float, y2: float, colour: str, width: float = 2) -> str:
    return (
        f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}" '
        f'stroke="{colour}" stroke-width="{width}"/>'
    )


def _line(lesson: Debrief, feet: bool) -> Iterator[str]:
    plant = lesson.drill.situation.scenario.plant

    def x(at_m: float) -> float:
        return _LEFT + _SPAN * min(max(at_m / plant.length_m, 0.0), 1.0)

    yield _rule(x(0), 50, x(plant.length_m), 50, "currentColor", 3)
    yield _text(_LEFT - 8, 54, "near", "end")
    at_m = 0.0
    for section in plant.section:
        end_m = at_m + section.length_m
        made = gauge(section.gauge_awg, section.diameter_mm)
        yield _text(x((at_m + end_m) / 2), 20, f"{section.name or ''} {made}".strip())
        yield _text(x(end_m), 40, length(end_m, feet), "end")
        yield _rule(x(end_m), 44, x(end_m), 56, "currentColor")
        at_m = end_m
    for tap in plant.tap:
        yield _rule(x(tap.at_m), 50, x(tap.at_m), 70, "currentColor", 3)
        yield _text(x(tap.at_m), 82, "tap")
    rows = (
        ("is wrong", lesson.verdict.truth, "#d55e00"),
        ("said", lesson.verdict.answers, "#0072b2"),
    )
    for at, (word, answers, colour) in enumerate(rows):
        y = 92 + 20 * at
        yield _text(_LEFT - 8, y + 4, word, "end")
        words = [one.kind for one in answers if one.at_m is None]
        yield _text(_LEFT, y + 4, ", ".join(words), "start")
        for one in answers:
            if one.at_m is not None:
                off_m = one.within_m or 0.0
                start, end = x(one.at_m - off_m), x(one.at_m + off_m)
                yield _rule(start - 3, y, end + 3, y, colour, 8)


def _time(lesson: Debrief) -> Iterator[str]:
    whole_s = max([lesson.verdict.took_s, *(one.end_s for one in lesson.moments)], default=0) or 1

    def x(at_s: float) -> float:
        return _LEFT + _SPAN * at_s / whole_s

    rows = {"keys": 20, "reading": 45, "spoiled": 45, "hold": 70}
    for name in ("keys", "reading", "hold"):
        yield _text(_LEFT - 8, rows[name] + 4, {"reading": "readings"}.get(name, name), "end")
    bars = [(one.kind, one.start_s, one.end_s, one.what) for one in lesson.moments]
    bars += [("hold", one.start_s, one.end_s, one.state) for one in lesson.holds]
    for kind, start_s, end_s, word in bars:
        if kind in rows:
            end = max(x(end_s), x(start_s) + 2)
            yield (
                f'<rect x="{x(start_s):.1f}" y="{rows[kind] - 8}" width="{end - x(start_s):.1f}" '
                f'height="16" fill="{_COLOURS[kind]}"><title>{escape(word)}</title></rect>'
            )
        if kind == "spoiled":
            yield _text((x(start_s) + end) / 2, rows[kind] + 4, "x")
        if kind == "hold":
            yield _text(x(start_s), rows[kind] + 24, word, "start")
    if any(one.kind == "spoiled" for one in lesson.moments):
        yield _text(_LEFT, 8, "x: a reading that had not come to rest", "start")
    yield _rule(_LEFT, 100, _LEFT + _SPAN, 100, "currentColor", 1)
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        yield _text(x(whole_s * part), 114, f"{whole_s * part:.0f} s")
