"""What a trainee says is wrong with a pair, and what the truth says, in the same words.

Law: an answer is as seen from the near end. Legs are the meter's own: a reversal on the way
exchanges them. A stretch is its middle and what it may be off to either side.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from farend_sim.scenario import Scenario
from line_model import troubles
from line_model.troubles import Conductor, Reversal, Trouble

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


def truth(scenario: Scenario) -> tuple[Answer, ...]:
    """What is wrong with a scenario's pair, near to far; a good pair is one answer too."""
    found = [answer_of(scenario, index) for index in in_order(scenario)]
    if scenario.unit_faults:
        found.append(Answer(kind=UNIT, action="change-unit"))
    return tuple(found) or (GOOD_PAIR,)


def in_order(scenario: Scenario) -> list[int]:
    """The numbers of a scenario's troubles, near to far; those without a place come last."""

    def place(index: int) -> float:
        stretch = _stretch(scenario, scenario.trouble[index])
        return math.inf if stretch is None else sum(stretch) / 2

    return sorted(range(len(scenario.trouble)), key=place)


def answer_of(scenario: Scenario, index: int) -> Answer:
    """The answer that tells of one trouble."""
    trouble = scenario.trouble[index]
    stretch = _stretch(scenario, trouble)
    is_cross = any("." in name for name in trouble.conductors)
    return Answer(
        kind=CROSS if is_cross else trouble.kind,
        leg=_seen(scenario, index, None if stretch is None else stretch[0]),
        at_m=None if stretch is None else sum(stretch) / 2,
        within_m=None if stretch is None else (stretch[1] - stretch[0]) / 2,
        ohm=trouble.read_ohm,
        action=action_of(trouble.kind),
    )


def _stretch(scenario: Scenario, trouble: Trouble) -> tuple[float, float] | None:
    """Where a trouble starts and ends along the route [m]; nowhere, or all along, is None."""
    if trouble.line is None:
        return trouble.extent_m(scenario.plant)
    # From the near end a whole tap lies where it is joined.
    at_m = next(tap.at_m for tap in scenario.plant.tap if tap.name == trouble.line)
    return at_m, at_m


def _seen(scenario: Scenario, index: int, at_m: float | None) -> tuple[Conductor, ...]:
    """A trouble's conductors as the near end calls them."""
    nearer = [
        each
        for place, each in enumerate(scenario.trouble)
        if isinstance(each, Reversal) and at_m is not None and (each.at_m, place) < (at_m, index)
    ]
    other = {"tip": "ring", "ring": "tip"} if len(nearer) % 2 else {}
    return conductors([other.get(name, name) for name in scenario.trouble[index].conductors])


def action_of(kind: str) -> Action:
    """What is to be done about a kind of trouble."""
    actions: dict[str, Action] = {"battery": "report", "induction": "report", "wet": "replace"}
    return actions.get(kind, "repair")
