"""The hold that wastes least, with all that says how far to trust it.

A hold is designed for one function on one plant; the line says whether the unit hears in it. Deaf,
the hold that makes `cost.py`'s expected time least is the answer. Where the unit hears, a release
ends the hold and its length only matters when something goes wrong: the answer is a safety stop
that 99 % of readings fit in.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from farend_sim.hold_lab.cost import (
    DIALLED_SHARE,
    Price,
    Terms,
    cheapest,
    expected_s,
    near_best,
    price,
    searched,
)
from farend_sim.hold_lab.scheme_times import Span
from farend_sim.hold_lab.timings.durations import Array, Law, Lognormal
from farend_sim.hold_lab.timings.fit import FitReport
from farend_sim.hold_lab.timings.fitted import fit_all, fit_lognormal
from farend_sim.hold_lab.timings.spread import refit
from farend_sim.hold_lab.timings.survival import resampled, upper_quantile, worth
from farend_sim.hold_lab.timings.times_file import Tries


@dataclass(frozen=True, slots=True)
class Choice:
    """The best hold for one law under one set of terms."""

    hold_s: float
    price: Price
    """At that hold, arrays of one."""
    near_s: tuple[float, float]
    """Holds within 5 % of the best."""
    scheme_hold_s: float
    """The nearest that the scheme can express, the cheaper where two are as near."""
    scheme_expected_s: float


@dataclass(frozen=True, slots=True)
class Changed:
    """What becomes of the answer when one number was wrong."""

    changed: str
    hold_s: float
    """The best hold then."""
    expected_s: float
    """What that costs."""
    kept_expected_s: float
    """What the hold designed before costs then."""


@dataclass(frozen=True, slots=True)
class Band:
    """How far few samples leave the answer open."""

    rounds: int
    hold_s: tuple[float, float]
    """90 % of holds that the timings, drawn again, would have led to."""
    expected_s: tuple[float, float]
    upper_s: dict[float, float]
    """By share: with 95 % confidence that share of readings is done by then."""


@lru_cache(maxsize=64)
def choose(law: Law, terms: Terms, span: Span) -> Choice:
    """Find the best hold, and the scheme's nearest to it."""
    best_s, _ = cheapest(law, terms)
    near_s = near_best(lambda at: price(law, at, terms).expected_s, *searched(law))
    if terms.hears:
        best_s = law.quantile(DIALLED_SHARE)
    can = span.near(best_s)
    costs = [expected_s(law, each, terms) for each in can]
    scheme_s = can[int(np.argmin(costs))]
    at_best = price(law, np.array([best_s]), terms)
    return Choice(best_s, at_best, near_s, scheme_s, min(costs))


def curve(law: Law, terms: Terms, around_s: float) -> tuple[Array, Price]:
    """The price of holds from a sixth of the best to four times it."""
    holds = np.linspace(around_s / 6, around_s * 4, 116)
    return holds, price(law, holds, terms)


def sensitivity(law: Law, terms: Terms, kept_s: float) -> Iterator[Changed]:
    """A fifth more and less of what is known least."""
    for what, other, under in _others(law, terms):
        best_s, _ = _quick(other, under)
        best = expected_s(other, best_s, under)
        yield Changed(what, best_s, best, expected_s(other, kept_s, under))


def _others(law: Law, terms: Terms) -> Iterator[tuple[str, Law, Terms]]:
    for share in (0.8, 1.2):
        yield f"command {share:.0%}", law, replace(terms, command_s=terms.command_s * share)
    if isinstance(law, Lognormal):
        for share in (0.8, 1.2):
            yield f"median {share:.0%}", replace(law, median_s=law.median_s * share), terms
            wide = replace(law, log_sd=law.log_sd * share, job_log_sd=law.job_log_sd * share)
            yield f"spread {share:.0%}", wide, terms
        if law.job_log_sd == 0:
            # What if most of the spread lies between jobs, and nobody has noticed?
            parted = replace(law, log_sd=law.log_sd / 2, job_log_sd=law.log_sd * 0.75**0.5)
            yield "3/4 of the variance between jobs", parted, terms
        else:
            yield "patience 3", law, replace(terms, patience=3)
            yield "patience 200", law, replace(terms, patience=200)


def band(report: FitReport, terms: Terms, seed: int = 1) -> Band:
    """Draw the timings again and again, fit and choose anew."""
    rng = np.random.default_rng(seed)
    tries = report.tries
    rounds = 200 if report.spread.law is None else 40
    holds, costs = [], []
    for _ in range(rounds):
        if (made := resampled(tries, rng)) is not None:
            hold_s, cost = _quick(_fitted_anew(report, made), terms)
            holds.append(hold_s)
            costs.append(cost)
    whole = report.spread.law or report.lognormal
    upper = {q: upper_quantile(whole, worth(tries, whole), q) for q in (0.9, 0.95, 0.99)}
    return Band(len(holds), _middle(holds), _middle(costs), upper)


def _quick(law: Law, terms: Terms) -> tuple[float, float]:
    """The best hold and its cost, near enough for a band."""
    best_s, cost = cheapest(law, terms, 80, 2)
    return (law.quantile(DIALLED_SHARE) if terms.hears else best_s), cost


def _fitted_anew(report: FitReport, tries: Tries) -> Law:
    if report.spread.law is not None:
        return refit(tries, report.spread.law)
    if report.best.law.name == "lognormal":
        return fit_lognormal(tries).law
    return next(each.law for each in fit_all(tries) if each.law.name == report.best.law.name)


def _middle(values: list[float]) -> tuple[float, float]:
    low, high = np.quantile(np.array(values), (0.05, 0.95))
    return float(low), float(high)
