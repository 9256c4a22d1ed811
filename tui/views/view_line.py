"""The line as a drawing, for the trainer: sections to scale, troubles under them, volts along it.

Pure: a plant, its troubles and what stands along the route in; lines of text out.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from farend_sim.bench.pair.along import Along
from farend_sim.route_drawing import Mark, route_lines
from farend_sim.said import length, quantity
from farend_sim.scenario import Scenario
from line_model.plant import Plant
from line_model.troubles import Trouble

_BOX = str.maketrans("=+T|", "\u2550\u256c\u2566\u2551")
"""How the screen draws a cable."""


@dataclass(frozen=True, slots=True)
class LineView:
    """Lines of text, one under the other."""

    drawing: str
    troubles: tuple[str, ...]
    volts: tuple[str, ...]
    """Heading and rows of a table."""


def line_view(
    scenario: Scenario, away: frozenset[int], at: Sequence[Along], columns: int, feet: bool
) -> LineView:
    """The whole of it.

    Args:
        scenario: the plant and its troubles.
        away: which of the troubles are out, by their place in the file.
        at: what stands along the route.
        columns: how wide the drawing is.
        feet: whether lengths are told in feet.
    """
    return LineView(
        "\n".join(_drawing(scenario, away, columns, feet)),
        tuple(
            f"{number}  {trouble_words(trouble, scenario.plant, feet)}"
            for number, trouble in enumerate(scenario.trouble, 1)
        ),
        tuple(_volts(at, feet)),
    )


def trouble_words(trouble: Trouble, plant: Plant, feet: bool) -> str:
    """A trouble in a line: its kind, what it is on, where, and its numbers."""
    parts: list[str] = [trouble.kind, "-".join(trouble.conductors)]
    if (spot := _spot(trouble, plant)) is not None:
        parts.append("at " + " to ".join(length(at_m, feet) for at_m in dict.fromkeys(spot)))
    parts += [quantity(value, unit, "open") for value, unit in trouble.numbers]
    return " ".join(part for part in parts if part)


def _spot(trouble: Trouble, plant: Plant) -> tuple[float, float] | None:
    """From where to where it is along the route [m]; None if all along, or on a tap."""
    return None if trouble.line is not None else trouble.extent_m(plant)


def _drawing(scenario: Scenario, away: frozenset[int], columns: int, feet: bool) -> Iterable[str]:
    """The route with its troubles under it; one that is away is a row of dots."""
    spots = [(number, _spot(each, scenario.plant)) for number, each in enumerate(scenario.trouble)]
    marks = [
        Mark(*spot, "\u00b7" if number in away else "\u25b2", str((number + 1) % 10))
        for number, spot in spots
        if spot is not None
    ]
    names, cable, under = route_lines(scenario.plant, feet, marks, columns=columns)
    return names, cable.translate(_BOX), under


def _volts(at: Sequence[Along], feet: bool) -> Iterable[str]:
    yield f"{'place':>7}{'tip V':>8}{'ring V':>8}{'tip-ring':>9}{'sheath':>7}"
    for one in at:
        between = (
            None if one.tip_volt is None or one.ring_volt is None else one.tip_volt - one.ring_volt
        )
        volts = (_volt(one.tip_volt), _volt(one.ring_volt), _volt(between), _volt(one.sheath_volt))
        yield f"{length(one.at_m, feet):>7}{volts[0]:>8}{volts[1]:>8}{volts[2]:>9}{volts[3]:>7}"


def _volt(value: float | None) -> str:
    if value is None:
        return "-"
    return "0.00" if abs(value) < 0.005 else f"{value:.2f}"
