"""What can be said to be wrong with a pair: its kind, where, on which legs, and what to do.

Law: an answer is as seen from the near end. Legs are the meter's own: a reversal on the way
exchanges them. A stretch is its middle and what it may be off to either side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from farend_sim.said import length, quantity
from line_model import troubles
from line_model.troubles import Conductor

Action = Literal["close", "repair", "replace", "report", "change-unit"]
"""What to do: nothing is wrong, so close the ticket; mend it at the place; put new cable into the
stretch; stop, back off and report; have the unit changed."""
ACTIONS: tuple[Action, ...] = get_args(Action)

NONE = "none"
UNIT = "unit"
CROSS = "cross"
KINDS = (NONE, *troubles.KINDS, CROSS, UNIT)
"""A scenario's own words for a trouble; `none` is a good pair, `cross` a leak to a neighbour pair's
leg, `unit` a unit at fault."""

ResistanceClass = Literal["short", "low", "middle", "high", "open"]
CLASS_LIMITS_OHM: tuple[tuple[float, ResistanceClass], ...] = (
    (10.0, "short"),
    (1e3, "low"),
    (1e5, "middle"),
    (1e9, "high"),
    (math.inf, "open"),
)
"""Each class and what it ends under. Two decades each: common practice, no source."""
SAME_FACTOR = 2.0
"""Two figures this close are of one class, whatever limit lies between them. Invented here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One trouble: its kind, the conductors it is on, where, how many ohms, and what to do.

    What is None is not said, or has no meaning for the kind.
    """

    kind: str
    leg: tuple[Conductor, ...] = ()
    """In the order tip, ring, sheath."""
    at_m: float | None = None
    within_m: float | None = None
    """How far the place may be off to either side; half its length, for a stretch."""
    ohm: float | None = None
    """Infinite for a conductor that is open."""
    action: Action | None = None

    @property
    def resistance(self) -> ResistanceClass | None:
        """The class of its resistance."""
        return None if self.ohm is None else resistance_class(self.ohm)


GOOD_PAIR = Answer(kind=NONE, action="close")


def resistance_class(ohm: float) -> ResistanceClass:
    """The class of a resistance."""
    return next((name for limit, name in CLASS_LIMITS_OHM if ohm < limit), "open")


def same_resistance(a_ohm: float, b_ohm: float) -> bool:
    """Whether two resistances are of one class, or close beside a class's limit."""
    if resistance_class(a_ohm) == resistance_class(b_ohm):
        return True
    low, high = sorted((a_ohm, b_ohm))
    return low > 0 and high <= SAME_FACTOR * low


def conductors(named: Sequence[str]) -> tuple[Conductor, ...]:
    """Conductors in their one order, each once."""
    known: tuple[Conductor, ...] = get_args(Conductor)
    return tuple(each for each in known if each in named)


def action_of(kind: str) -> Action:
    """What is to be done about a kind of trouble."""
    actions: dict[str, Action] = {"battery": "report", "induction": "report", "wet": "replace"}
    return actions.get(kind, "repair")


def said(answer: Answer, feet: bool = False) -> str:
    """An answer as people say it."""
    if answer.kind == NONE:
        return "nothing: a good pair"
    parts = [answer.kind]
    if answer.leg:
        parts.append("-".join(answer.leg))
    if answer.at_m is not None:
        off = f" +- {length(answer.within_m, feet)}" if answer.within_m else ""
        parts.append(f"at {length(answer.at_m, feet)}{off}")
    if answer.ohm is not None:
        ohm = "open" if answer.resistance == "open" else quantity(answer.ohm, "ohm")
        parts.append(ohm)
    if answer.action is not None:
        parts.append(f"to do: {answer.action}")
    return ", ".join(parts)
