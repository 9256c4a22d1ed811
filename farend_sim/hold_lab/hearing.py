"""Which functions leave the unit deaf: asked of the line, for each function on a stated plant."""

from dataclasses import dataclass

from farend_sim.bench.line_report import line_report
from farend_sim.situation import Situation

FUNCTIONS = ("tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair")
"""Every function of a unit that holds."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """Whether the unit hears its keypad in a function, and why not."""

    function: str
    hears: bool
    why: str | None


def hearing(situation: Situation, function: str) -> Hearing:
    """Ask line and receiver, with the near end bare of its meter."""
    receiver = line_report(situation, function)["receiver"]
    return Hearing(function, receiver["hears"], receiver["why"])
