"""Test leads: from terminals of the pair to a meter's own terminals."""

from typing import Literal

from line_model.parts import Part, Resistor
from line_model.terminals import Terminals

PLUS, MINUS, THIRD = "meter.plus", "meter.minus", "meter.third"
CLIP_LEAD_OHM = 0.05
"""A short clip lead [ohm]: common practice, no source."""
LEAST_LEAD_OHM = 1e-3
"""No lead at all is a milliohm: beside less, insulation would lose its digits in time."""


def joined(across: str, at: Terminals, lead_ohm: float) -> tuple[Part, ...]:
    """Two leads across terminals such as `tip-ring` or `tip+ring-sheath`, plus first."""
    plus, minus = ([at.node(name) for name in side.split("+")] for side in across.split("-"))
    parts: list[Part] = [lead(plus[0], PLUS, lead_ohm), lead(minus[0], MINUS, lead_ohm)]
    for first, *others in (plus, minus):
        parts += [Resistor(first, other, CLIP_LEAD_OHM) for other in others]
    return tuple(parts)


def lead(node: str, terminal: str, lead_ohm: float) -> Part:
    """One lead from a node of the pair to a terminal of the meter."""
    return Resistor(node, terminal, max(lead_ohm, LEAST_LEAD_OHM))


def hookup(across: str) -> tuple[str, str]:
    """The bad leg and the good one of a bridge's `bad=tip good=ring`."""
    named = dict(part.split("=", 1) for part in across.split())
    return named["bad"], named["good"]


def bad_good(bad: str, good: str) -> str:
    """A bridge's hook-up, as it is written."""
    return f"bad={bad} good={good}"


BAD_GOOD = (bad_good("tip", "ring"), bad_good("ring", "tip"))
"""The ways to clip a bridge to a pair."""


def refuses(wanted: Literal["two", "bad-good"], across: str) -> str | None:
    """Why a meter cannot be clipped so; None if it can."""
    given = "bad-good" if "=" in across else "two"
    if given == wanted:
        return None
    if wanted == "two":
        return "this meter is clipped across two terminals, such as tip-ring"
    return "a bridge is clipped to a bad leg and a good one: bad=tip good=ring"
