"""One default for many meters: the cheapest on average, the one least regretted, and its price.

A default stands on a card and in a head: of the holds that cost at most 2 % more than the best, the
roundest is the one to ship (whole minutes, half minutes, tens, fives, seconds).
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from farend_sim.hold_lab.cost import Price, Terms, cheapest, least, price
from farend_sim.hold_lab.fleet.fleet_file import Fleet
from farend_sim.hold_lab.on_pair.meter_in_use import law_of
from farend_sim.hold_lab.on_pair.terms import hearing, terms_of
from farend_sim.hold_lab.scheme_times import dial_s
from farend_sim.hold_lab.timings.durations import Array, Law
from farend_sim.situation import Situation

ROUND_S = (60, 30, 10, 5, 1)
"""A round hold is a multiple of one of these, the roundest first [s]. A choice, no source."""
ROUND_WITHIN = 0.02
"""What a round number may cost: a choice, no source."""


@dataclass(frozen=True, slots=True)
class Member:
    """One meter of the fleet under its terms."""

    name: str
    function: str
    share: float
    law: Law
    terms: Terms
    dials: bool
    best_s: float
    """Its own best hold."""
    best: float
    """What that costs [s]."""

    def cost_s(self, hold_s: Array) -> Array:
        """A reading's expected time [s]."""
        return price(self.law, hold_s, self.terms).expected_s

    def regret_s(self, hold_s: Array) -> Array:
        """What a default costs over its own best hold [s]."""
        return np.asarray(np.maximum(self.cost_s(hold_s) - self.best, 0.0), dtype=np.float64)

    @property
    def who(self) -> str:
        return f"{self.name} on {self.function}"


@dataclass(frozen=True, slots=True)
class Default:
    """One default and its price."""

    hold_s: float
    expected_s: float
    """A reading's time until the next command, over those that use the default."""
    worst_regret_s: float
    worst: str
    """Who regrets it most."""
    misses_per_day: float
    wasted_min_per_day: float
    """Beyond what everyone's own best hold would take."""
    out_of_service_h_per_day: float
    """The unit in a hold, and a subscriber on that pair out of service."""
    battery_days: float


@dataclass(frozen=True, slots=True)
class FleetReport:
    fleet: Fleet
    members: tuple[Member, ...]
    cheapest: Default
    least_regret: Default
    rounded: Default
    compared: tuple[Default, ...]
    """Other defaults, for the eye."""
    with_dialled_s: float
    """The default that is best when whoever gains by it dials a hold of their own."""
    with_dialled: float
    """What a reading costs then [s]."""
    dialling: tuple[str, ...]
    """Who dials then."""
    dial_s: float
    curve_s: Array
    curve: Array
    """The cost of each default, and below it each member's regret."""
    regrets: tuple[Array, ...]


def members(fleet: Fleet, situation: Situation) -> tuple[Member, ...]:
    """Everybody's times, terms and own best hold."""
    total = sum(each.share for each in fleet.meter)
    functions = {each.function for each in fleet.meter}
    heard = {function: hearing(situation, function) for function in functions}
    out = []
    for used in fleet.meter:
        law = law_of(used, situation)
        terms = terms_of(situation, heard[used.function], fleet.command_s, fleet.patience)
        best_s, best = cheapest(law, terms)
        of = (used.name, used.function, used.share / total, law, terms, used.dials)
        out.append(Member(*of, best_s, best))
    return tuple(out)


def fleet_report(fleet: Fleet, situation: Situation) -> FleetReport:
    """Find the defaults of a fleet and their prices."""
    everyone = members(fleet, situation)
    using = tuple(each for each in everyone if not each.dials)
    command = situation.scheme.command_for(using[0].function)
    low_s = command.shortest_s or 1.0
    high_s = command.longest_s or 900.0
    cheap_s, cheap = least(lambda at: mean_cost(using, at), low_s, high_s)
    regret_s, _ = least(lambda at: worst_regret(using, at), low_s, high_s)
    dialled_s, dialled = least(lambda at: _mixed(using, at, dial_s(situation)), low_s, high_s)
    rounded_s = roundest(lambda at: mean_cost(using, at), cheap_s, cheap)
    at = np.linspace(low_s, min(high_s, 4 * cheap_s), 120)
    return FleetReport(
        fleet=fleet,
        members=everyone,
        cheapest=default(using, cheap_s, fleet),
        least_regret=default(using, regret_s, fleet),
        rounded=default(using, rounded_s, fleet),
        compared=tuple(default(using, each, fleet) for each in (15.0, 30.0, 60.0, 120.0, 300.0)),
        with_dialled_s=dialled_s,
        with_dialled=dialled,
        dialling=_dialling(using, dialled_s, dial_s(situation)),
        dial_s=dial_s(situation),
        curve_s=at,
        curve=mean_cost(using, at),
        regrets=tuple(each.regret_s(at) for each in using),
    )


def _mean(using: tuple[Member, ...], of: Callable[[Member], Array | float]) -> Array:
    """The mean over all readings of those who use the default."""
    shares = [each.share for each in using]
    rows = np.array([of(each) for each in using], dtype=np.float64)
    return np.asarray(np.average(rows, axis=0, weights=shares), dtype=np.float64)


def mean_cost(using: tuple[Member, ...], hold_s: Array) -> Array:
    """A reading's expected time over all who use the default [s]."""
    return _mean(using, lambda each: each.cost_s(hold_s))


def worst_regret(using: tuple[Member, ...], hold_s: Array) -> Array:
    """The widest regret of all who use the default [s]."""
    return np.asarray(np.max([each.regret_s(hold_s) for each in using], axis=0), dtype=np.float64)


def _mixed(using: tuple[Member, ...], hold_s: Array, extra_s: float) -> Array:
    """The mean cost where each takes the default or dials, whichever costs less."""
    return _mean(using, lambda each: np.minimum(each.cost_s(hold_s), each.best + extra_s))


def _dialling(using: tuple[Member, ...], hold_s: float, extra_s: float) -> tuple[str, ...]:
    at = np.array([hold_s])
    return tuple(each.who for each in using if each.regret_s(at)[0] > extra_s)


def roundest(cost: Callable[[Array], Array], best_s: float, best: float) -> float:
    """The roundest hold that costs at most ROUND_WITHIN more than the best."""
    for step in ROUND_S:
        below = np.floor(best_s / step) * step
        near = np.array([at for at in (below, below + step) if at > 0])
        costs = cost(near)
        if costs.min() <= best * (1 + ROUND_WITHIN):
            return float(near[int(np.argmin(costs))])
    return best_s


def default(using: tuple[Member, ...], hold_s: float, fleet: Fleet) -> Default:
    """What one default costs, by the reading and by the day."""
    at = np.array([hold_s])
    prices = {each: price(each.law, at, each.terms) for each in using}
    regrets = {each: float(each.regret_s(at)[0]) for each in using}
    worst = max(using, key=lambda each: regrets[each])
    mean = float(mean_cost(using, at)[0])
    day = fleet.readings_per_day * sum(each.share for each in using)
    held_h = day * float(_mean(using, lambda each: _held_s(each.terms, prices[each]))) / 3600
    return Default(
        hold_s=hold_s,
        expected_s=mean,
        worst_regret_s=regrets[worst],
        worst=worst.who,
        misses_per_day=day * float(_mean(using, lambda each: prices[each].misses)[0]),
        wasted_min_per_day=day * (mean - float(_mean(using, lambda each: each.best))) / 60,
        out_of_service_h_per_day=held_h,
        battery_days=fleet.battery_h / held_h if held_h else float("inf"),
    )


def _held_s(terms: Terms, of: Price) -> float:
    """How long the unit is in a hold for one reading: all that is not dialling."""
    tries = float(of.misses[0]) + 1
    return max(float(of.expected_s[0]) - tries * terms.command_s - terms.release_s, 0.0)
