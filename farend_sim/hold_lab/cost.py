"""What a hold costs: the expected time from one command until the next can be given.

A command costs c, a reading takes X, the hold is h. One try costs

    deaf:   c + h                                          finished or not
    hears:  c + X + p r + (1 - p) (h - X)    if X <= h,    c + h if not

where p is whether the unit hears the release and r what a release costs. Tries of one job are
alike, so the time until a reading is made is (one try) / F(h): deaf, (c + h) / F(h).
Over jobs that differ it is the mean of that over the jobs, which has no limit where the spread
between jobs is as wide as that within one. Nobody tries for ever: after `patience` misses in a row
the person dials a hold in which 99 % of all readings fit, and 99 % of that job's.

Sources: fixed-hold restart after Luby, Sinclair, Zuckerman 1993 (from memory); the rest follows.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from farend_sim.hold_lab.timings.durations import Array, Law, jobs

DIALLED_SHARE = 0.99
"""The share of a job's readings that a hold dialled in earnest lets finish: a choice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What a try is up against."""

    command_s: float
    """Knock, command, replies, and the hands' way between keypad and meter [s]."""
    release_share: float = 0.0
    """p: of releases during this hold, those that the unit hears; 0 where it is deaf."""
    release_s: float = 0.0
    """What a release costs [s]."""
    patience: int = 20
    """So many misses in a row, and a longer hold is dialled: a choice, no source."""

    @property
    def hears(self) -> bool:
        """Whether the unit hears a release."""
        return self.release_share > 0


@dataclass(frozen=True, slots=True)
class Price:
    """Of each hold asked about."""

    expected_s: Array
    """Until the next command can be given."""
    in_hand_s: Array
    """Until the reading is made."""
    finish: Array
    """The share of first tries that finish."""
    misses: Array
    """Holds that ran out first, for each reading made."""


def price(law: Law, hold_s: Array, terms: Terms) -> Price:
    """What each hold costs with readings of a law."""
    hold_s = np.asarray(hold_s, dtype=np.float64)
    parts = jobs(law)
    if len(parts) == 1:
        rows = [(1.0, _one_job(law, hold_s, terms))]
    else:
        rows = [
            (share, _one_patient_job(job, hold_s, terms, dialled_hold_s(job, law)))
            for share, job in parts
        ]
    summed = [np.sum([share * row[at] for share, row in rows], axis=0) for at in range(3)]
    return Price(summed[0], summed[1], law.cdf(hold_s), summed[2])


def expected_s(law: Law, hold_s: float, terms: Terms) -> float:
    """The expected time until the next command, for one hold [s]."""
    return float(price(law, np.array([hold_s]), terms).expected_s[0])


def _try_s(law: Law, hold_s: Array, terms: Terms) -> tuple[Array, Array, Array]:
    """One try's cost, its chance, and the time of the reading within it where it is made."""
    finish = np.maximum(law.cdf(hold_s), 1e-300)
    made_s = law.partial(hold_s)
    p = terms.release_share
    ends_s = made_s + p * terms.release_s * finish + (1 - p) * (hold_s * finish - made_s)
    return terms.command_s + ends_s + (1 - finish) * hold_s, finish, made_s / finish


def _one_job(law: Law, hold_s: Array, terms: Terms) -> tuple[Array, Array, Array]:
    try_s, finish, made_s = _try_s(law, hold_s, terms)
    misses = (1 - finish) / finish
    in_hand_s = misses * (terms.command_s + hold_s) + terms.command_s + made_s
    return try_s / finish, in_hand_s, misses


def dialled_hold_s(job: Law, law: Law) -> float:
    """The hold that is dialled in earnest [s]: nobody knows beforehand that a job is quick."""
    return max(job.quantile(DIALLED_SHARE), law.quantile(DIALLED_SHARE))


def _one_patient_job(
    law: Law, hold_s: Array, terms: Terms, long_s: float
) -> tuple[Array, Array, Array]:
    """The same with an end to patience, since a mean over jobs needs one."""
    try_s, finish, made_s = _try_s(law, hold_s, terms)
    inside = np.minimum(finish, 1 - 1e-15)
    # not 1 less a power: where hardly a reading fits, that would lose all its tries to rounding
    made = -np.expm1(terms.patience * np.log1p(-inside))
    given_up, tries = 1 - made, made / inside
    dialled_s = terms.command_s + _one_job(law, np.array([long_s]), terms)[0]
    failed = tries - made
    in_hand_s = failed * (terms.command_s + hold_s) + made * (terms.command_s + made_s)
    return (
        try_s * tries + given_up * dialled_s,
        in_hand_s + given_up * dialled_s,
        failed + given_up * (1 - DIALLED_SHARE),
    )


def least(
    cost: Callable[[Array], Array], low_s: float, high_s: float, first: int = 400, finer: int = 5
) -> tuple[float, float]:
    """The hold that costs least between two, and its cost: a grid, then finer ones around it."""
    at = np.geomspace(low_s, high_s, first)
    values = cost(at)
    for _ in range(finer):
        best = int(np.argmin(values))
        at = np.linspace(at[max(best - 1, 0)], at[min(best + 1, len(at) - 1)], 41)
        values = cost(at)
    best = int(np.argmin(values))
    return float(at[best]), float(values[best])


def searched(law: Law) -> tuple[float, float]:
    """The span of holds in which the best one must lie [s]."""
    return law.quantile(1e-4), law.quantile(1 - 1e-9) * 1.5


def cheapest(law: Law, terms: Terms, first: int = 400, finer: int = 5) -> tuple[float, float]:
    """The hold at which a reading of a law costs least, and what it costs [s]."""
    return least(lambda at: price(law, at, terms).expected_s, *searched(law), first, finer)


def near_best(
    cost: Callable[[Array], Array], low_s: float, high_s: float, within: float = 0.05
) -> tuple[float, float]:
    """The holds around the best that cost at most a share more."""
    best_s, best = least(cost, low_s, high_s)
    limit = best * (1 + within)
    return _edge(cost, best_s, low_s, limit), _edge(cost, best_s, high_s, limit)


def _edge(cost: Callable[[Array], Array], inner_s: float, outer_s: float, limit: float) -> float:
    """How far from a hold towards another the cost stays below a limit."""
    if cost(np.array([outer_s]))[0] <= limit:
        return outer_s
    for _ in range(12):
        at = np.linspace(inner_s, outer_s, 9)
        past = int(np.argmax(cost(at) > limit))
        inner_s, outer_s = float(at[past - 1]), float(at[past])
    return inner_s
