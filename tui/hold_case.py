"""The hold lab's question on the screen: one meter or one fleet, and what any hold would cost.

Law: every number is from farend_sim.hold_lab; this only asks it again as the hold moves.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from farend_sim.answers.answer import Answer, Line, Plot, points
from farend_sim.hold_lab.cost import price
from farend_sim.hold_lab.design.asked import asked_for
from farend_sim.hold_lab.design.design_answer import design_answer
from farend_sim.hold_lab.design.designed import Found, designed
from farend_sim.hold_lab.fleet.fleet import FleetReport, default, fleet_report, mean_cost
from farend_sim.hold_lab.fleet.fleet_answer import fleet_answer
from farend_sim.hold_lab.fleet.fleet_file import load_fleet
from farend_sim.hold_lab.on_pair.meter_in_use import situation_of
from farend_sim.hold_lab.on_pair.question import Question
from farend_sim.hold_lab.timings.durations import Array


@dataclass(frozen=True, slots=True)
class HoldCase:
    """What the screen asks of a question whose answer is worked out."""

    title: str
    best_s: float
    default_s: float
    """What the unit comes with."""
    cost_s: Callable[[Array], Array]
    rows: Callable[[float], tuple[str, ...]]
    """What is to say about one hold."""
    answer: Answer
    """All there is to say, with its tables."""

    def plot(self, hold_s: float) -> Plot:
        """The cost of all holds around the best, with this one marked."""
        high_s = max(4 * self.best_s, 1.1 * hold_s)
        at_s = np.linspace(max(1.0, self.best_s / 6), high_s, 120)
        line = Line("any hold", points(at_s, self.cost_s(at_s)))
        best = float(self.cost_s(np.array([self.best_s]))[0])
        marks = ((f"this hold, {hold_s:.0f} s", hold_s),)
        return Plot("What a hold costs", "hold in s", "seconds a reading", (line,), marks, 4 * best)


def meter_case(name: str) -> HoldCase:
    """The hold for one meter, strapped, on its usual plant."""
    asked = asked_for(Question(meter=name))
    found = designed(asked)
    own = found.own

    def cost_s(hold_s: Array) -> Array:
        return price(asked.law, hold_s, own.terms).expected_s

    return HoldCase(
        asked.title,
        own.choice.hold_s,
        own.default_s,
        cost_s,
        lambda hold_s: tuple(_meter_rows(found, hold_s)),
        design_answer(asked),
    )


def _meter_rows(found: Found, hold_s: float) -> Iterator[str]:
    of = price(found.asked.law, np.array([hold_s]), found.own.terms)
    best = float(found.own.choice.price.expected_s[0])
    yield f"until the next command  {of.expected_s[0]:8.1f} s  (cheapest {best:.1f} s)"
    yield f"first tries that fit    {100 * of.finish[0]:8.1f} %"
    yield f"holds that ran out first{of.misses[0]:8.2f}  for each reading made"
    near_s = found.own.choice.near_s
    yield f"within 5 % of the best  {near_s[0]:.0f} to {near_s[1]:.0f} s"
    hears = "hears a release" if found.own.terms.hears else "is deaf; only its timer ends the hold"
    yield f"meanwhile the unit      {hears}"


def fleet_case(name: str) -> HoldCase:
    """One default for a fleet."""
    fleet = load_fleet(name)
    situation = situation_of(fleet.scenario, fleet.scheme)
    report = fleet_report(fleet, situation)
    using = tuple(each for each in report.members if not each.dials)
    own = situation.scheme.command_for(using[0].function)
    return HoldCase(
        fleet.title,
        report.cheapest.hold_s,
        own.hold_s or report.cheapest.hold_s,
        lambda hold_s: mean_cost(using, hold_s),
        lambda hold_s: tuple(_fleet_rows(report, hold_s)),
        fleet_answer(report),
    )


def _fleet_rows(report: FleetReport, hold_s: float) -> Iterator[str]:
    using = tuple(each for each in report.members if not each.dials)
    at = default(using, hold_s, report.fleet)
    best = report.cheapest.expected_s
    yield f"a reading costs         {at.expected_s:8.1f} s  (cheapest {best:.1f} s)"
    yield f"worst regret            {at.worst_regret_s:8.1f} s  {at.worst}"
    yield f"misses a day            {at.misses_per_day:8.1f}"
    yield f"wasted a day            {at.wasted_min_per_day:8.1f} min"
    yield f"a battery lasts         {at.battery_days:8.1f} days"
