"""The spread between jobs and the spread within one, from timings that say which job they are of.

ln(seconds) = m + (this job) + (this try), both normal; a job's own value is summed over
(durations.JOBS_AT), cut-off tries included. One try a job cannot tell the two apart, and few jobs
hardly can: what is in doubt is said.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.hold_lab.timings.durations import JOBS_AT, Array, Lognormal, bell
from farend_sim.hold_lab.timings.simplex import least_at
from farend_sim.hold_lab.timings.times_file import Tries

_NONE = -12.0
"""The log of a spread between jobs that is none."""


@dataclass(frozen=True, slots=True)
class Spread:
    """Both spreads, or why there are none."""

    law: Lognormal | None
    jobs: int
    between_low: float | None = None
    """95 % interval of the spread between jobs."""
    between_high: float | None = None
    p_value: float | None = None
    """How often jobs that are all alike would look so different: half a chi square."""
    warnings: tuple[str, ...] = ()


def fit_spread(tries: Tries) -> Spread:
    """Part the spread of timings that have a job column."""
    if tries.job is None:
        return Spread(
            None,
            0,
            warnings=(
                "no job column: a pair that is slow at every try looks like chance; "
                "the best hold may be much longer",
            ),
        )
    repeats = tries.n - tries.jobs
    if tries.jobs < 3 or repeats < 3:
        told = f"{tries.jobs} jobs with {repeats} repeated tries do not part the spreads"
        return Spread(None, tries.jobs, warnings=(f"{told}: 3 and 3 are the least",))
    return _parted(tries)


def _parted(tries: Tries) -> Spread:
    from scipy.stats import chi2

    minus = Minus(tries)
    logs = np.log(tries.seconds)
    whole = max(float(logs.std()), 0.02)
    starts = [
        np.array([logs.mean(), np.log(a * whole), np.log(b * whole)])
        for a, b in ((0.7, 0.7), (0.95, 0.3), (0.3, 0.95))
    ]
    best, least = min((least_at(minus, at, 1e-4) for at in starts), key=lambda each: each[1])
    _, alike = least_at(lambda at: minus(np.array([*at, _NONE])), starts[1][:2], 1e-4)
    p_value = 0.5 * float(chi2.sf(max(2 * (alike - least), 0.0), 1))
    law = _law(best)
    low, high = _interval(minus, best, least)
    doubts = tuple(_doubts(law, tries.jobs, low, high, p_value))
    return Spread(law, tries.jobs, low, high, p_value, doubts)


def refit(tries: Tries, start: Lognormal) -> Lognormal:
    """The same law for timings much like those it was fitted to: quick, for a bootstrap."""
    at = np.log([start.median_s, start.log_sd, start.job_log_sd])
    return _law(least_at(Minus(tries), np.asarray(at, dtype=np.float64), 1e-3)[0])


def _law(at: Array) -> Lognormal:
    m, within, between = (float(each) for each in np.exp(at))
    return Lognormal(m, within, between)


class Minus:
    """Minus the likelihood of all timings, by ln median and the logs of both spreads."""

    def __init__(self, tries: Tries) -> None:
        self.logs, self.done = np.log(tries.seconds)[:, None], tries.is_finished
        self.sums = np.zeros((tries.jobs, tries.n))
        self.sums[tries.member, np.arange(tries.n)] = 1.0
        self.log_shares = np.log(bell(JOBS_AT))

    def __call__(self, at: Array) -> float:
        from scipy.special import log_ndtr

        within, between = np.exp(np.clip(at[1:], -15, 5))
        z = (self.logs - at[0] - between * JOBS_AT) / within
        one = -z * z / 2 - np.log(within) - self.logs - np.log(2 * np.pi) / 2
        one[~self.done] = log_ndtr(-z[~self.done])
        of_job = self.sums @ one + self.log_shares
        top = of_job.max(axis=1, keepdims=True)  # scipy's logsumexp, at a fifth of its time
        return -float((top[:, 0] + np.log(np.exp(of_job - top).sum(axis=1))).sum())


def _interval(minus: Minus, best: Array, least: float) -> tuple[float, float]:
    """Where the likelihood, the other numbers fitted anew, has fallen by 1.92."""

    def fallen(log_between: float) -> bool:
        _, around = least_at(lambda at: minus(np.array([*at, log_between])), best[:2], 1e-2)
        return around - least > 1.92

    edges = []
    for far in (-5.0, 2.0):
        inner, outer = float(best[2]), far
        if inner <= far < 0 or not fallen(far):
            edges.append(0.0 if far < 0 else float("inf"))
            continue
        for _ in range(9):
            middle = (inner + outer) / 2
            inner, outer = (inner, middle) if fallen(middle) else (middle, outer)
        edges.append(float(np.exp(inner)))
    return edges[0], edges[1]


def _doubts(law: Lognormal, n: int, low: float, high: float, p_value: float) -> list[str]:
    doubts = []
    if p_value > 0.05:
        doubts.append(f"these jobs may all be alike (p = {p_value:.2g}): the parting is a guess")
    if n < 8 or high > 3 * max(low, 1e-3):
        doubts.append(
            f"the spread between jobs is known only to {low:.2g} .. {high:.2g} from {n} jobs"
        )
    if law.job_log_sd >= law.log_sd:
        doubts.append(
            "jobs differ by more than tries do: without an end to patience the mean cost of any "
            "hold has no limit"
        )
    return doubts
