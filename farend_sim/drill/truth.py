"""What is wrong with a scenario's pair, in the words of an answer."""

import math

from farend_sim.bench.answer import CROSS, GOOD_PAIR, UNIT, Answer, action_of, conductors
from farend_sim.scenario import Scenario
from line_model.troubles import Conductor, Reversal, Trouble


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
