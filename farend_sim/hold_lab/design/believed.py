"""How often a spoiled reading is believed, and the hold that has the wrong digs priced in."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from farend_sim.hold_lab.cost import Terms, least, price, searched
from farend_sim.hold_lab.on_pair.spoiled import Windows
from farend_sim.hold_lab.timings.durations import Array, Law, jobs


def believed(law: Law, windows: Windows, hold_s: Array) -> Array:
    """The share of tries that end in a number that is wrong and looks valid."""
    hold_s = np.asarray(hold_s, dtype=np.float64)
    spans = [law.cdf(hold_s + high) - law.cdf(hold_s + low) for low, high in windows.believed_s]
    return np.asarray(np.sum(spans, axis=0) if spans else 0.0 * hold_s, dtype=np.float64)


def wrong(law: Law, windows: Windows, hold_s: Array, times: int = 1) -> Array:
    """The share of jobs in which such a number is taken for the reading, so many times in a row."""
    total = np.zeros_like(np.asarray(hold_s, dtype=np.float64))
    for share, job in jobs(law):
        bad = believed(job, windows, hold_s)
        total += share * (bad / np.maximum(job.cdf(hold_s) + bad, 1e-300)) ** times
    return total


@dataclass(frozen=True, slots=True)
class Priced:
    """A way of working, with its best hold."""

    hold_s: float
    expected_s: float
    """Readings and wrong digs together [s]."""
    wrong_jobs: float
    """The share of them; for two readings that agree, at most."""


def once_priced(law: Law, windows: Windows, terms: Terms, dig_s: float) -> Priced:
    """One reading is enough, and a wrong one costs a dig."""

    def cost_s(hold_s: Array) -> Array:
        return price(law, hold_s, terms).expected_s + dig_s * wrong(law, windows, hold_s)

    return _priced(law, windows, cost_s, 1)


def twice_priced(law: Law, windows: Windows, terms: Terms, dig_s: float) -> Priced:
    """Done means two readings that agree, each in a hold of its own.

    A wrong one costs two more readings; both are wrong at most as often as two in a row are
    spoiled, since two spoiled numbers hardly ever agree.
    """

    def cost_s(hold_s: Array) -> Array:
        readings = 2 + 2 * wrong(law, windows, hold_s)
        dug_s = dig_s * wrong(law, windows, hold_s, 2)
        return readings * price(law, hold_s, terms).expected_s + dug_s

    return _priced(law, windows, cost_s, 2)


def _priced(law: Law, windows: Windows, cost_s: Callable[[Array], Array], times: int) -> Priced:
    hold_s, expected_s = least(cost_s, *searched(law), 200, 3)
    return Priced(hold_s, expected_s, float(wrong(law, windows, np.array([hold_s]), times)[0]))
