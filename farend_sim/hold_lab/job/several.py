"""Several readings in one hold: what is read is kept, what the hold cut off is read again.

With r readings to go and F_j the chance that j fit into a hold h, the expected time is, deaf,

    E_r = c + h + sum over j of P(exactly j fit) E_(r-j),      E_0 = 0

solved from r = 1 up. F_j is the law of a sum: convolved on a grid of GRID points up to the hold, by
half steps, so it is exact to the grid. Where the unit hears, the last reading ends the hold:
c + (the sum's time, cut at h) + r in place of c + h.
"""

import numpy as np

from farend_sim.hold_lab.cost import Terms, dialled_hold_s
from farend_sim.hold_lab.timings.durations import JOBS_AT, Array, Law, Lognormal, bell, of_job_at

GRID = 600
_EVERY = 4
"""Jobs are summed over in half standard deviations here."""


def expected_several_s(laws: tuple[Law, ...], hold_s: float, terms: Terms) -> float:
    """The expected time until readings of these laws, in this order, are all made [s]."""
    shares, ats = _jobs(laws)
    total = 0.0
    for share, at in zip(shares, ats, strict=True):
        own = tuple(of_job_at(law, float(at)) for law in laws)
        long_s = [dialled_hold_s(job, law) for job, law in zip(own, laws, strict=True)]
        total += float(share) * _one_job_s(own, hold_s, terms, long_s if len(ats) > 1 else [])
    return total


def expected_resumed_s(law: Law, hold_s: float, terms: Terms) -> float:
    """The expected time of work that goes on from hold to hold, such as a search by tone [s].

    Holds take N = sum over k of P(X > k h) commands: deaf, (c + h) N; where the unit hears the last
    one is released, c N + E X + r.
    """
    many = max(2, int(law.quantile(1 - 1e-9) / hold_s) + 2)
    holds = float(np.sum(1 - law.cdf(np.arange(many, dtype=np.float64) * hold_s)))
    waited_s = (terms.command_s + hold_s) * holds
    mean_s = float(law.partial(np.array([law.quantile(1 - 1e-12) * 10]))[0])
    released_s = terms.command_s * holds + mean_s + terms.release_s
    return terms.release_share * released_s + (1 - terms.release_share) * waited_s


def _jobs(laws: tuple[Law, ...]) -> tuple[Array, Array]:
    """One job's part is common to all its readings: the pair and the person are the same."""
    if not any(isinstance(law, Lognormal) and law.job_log_sd for law in laws):
        return np.ones(1), np.zeros(1)
    ats = JOBS_AT[::_EVERY]
    return bell(ats), ats


def _one_job_s(laws: tuple[Law, ...], hold_s: float, terms: Terms, long_s: list[float]) -> float:
    """Expected time for one job; E by the first reading that is yet to be made."""
    n, p = len(laws), terms.release_share
    to_go = [0.0] * (n + 1)
    for first in range(n - 1, -1, -1):
        fits, ends_s = _fits(laws[first:], hold_s)
        exactly = fits - np.append(fits[1:], 0.0)  # j = 0 .. r
        early_s = ends_s + fits[-1] * terms.release_s
        spent = terms.command_s + p * early_s + (1 - p) * hold_s
        later = sum(exactly[j] * to_go[first + j] for j in range(1, len(exactly)))
        moved = 1 - exactly[0]
        if not long_s:
            to_go[first] = (spent + later) / max(moved, 1e-300)
            continue
        given_up = exactly[0] ** terms.patience
        tries = (1 - given_up) / max(moved, 1e-15)
        fits_long = float(laws[first].cdf(np.array([long_s[first]]))[0])
        dialled_s = terms.command_s + (terms.command_s + long_s[first]) / fits_long
        to_go[first] = (spent + later) * tries + given_up * (dialled_s + to_go[first + 1])
    return to_go[0]


def _fits(laws: tuple[Law, ...], hold_s: float) -> tuple[Array, float]:
    """The chances that 0, 1, 2 ... fit, and the mean time until all do, cut at the hold [s]."""
    at = np.linspace(0.0, hold_s, GRID + 1)
    step = at[1]
    fits = [1.0]
    total: Array | None = None
    for law in laws:
        cdf = law.cdf(at)
        if total is None:
            total = cdf
        else:
            # Each step of the sum so far stands in its middle; the next law is added to it.
            steps = np.diff(total, prepend=0.0)
            total = np.convolve(steps, law.cdf(at + step / 2))[: GRID + 1]
            total = np.asarray(total, dtype=np.float64)
        fits.append(float(total[-1]))
    assert total is not None
    ends_s = float(np.trapezoid(1 - total, at))
    return np.array(fits), ends_s
