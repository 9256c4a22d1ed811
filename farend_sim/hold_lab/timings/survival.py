"""How timings lie against a law: the curve without a law (Kaplan, Meier 1958), distance and bands.

The band of the curve is Greenwood's on the scale of log(-log), as is usual.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from farend_sim.hold_lab.timings.durations import Array, Law, Lognormal
from farend_sim.hold_lab.timings.fitted import fit_all
from farend_sim.hold_lab.timings.times_file import Tries
from farend_sim.shares import SIGMAS


@dataclass(frozen=True, slots=True)
class Survival:
    """The share not yet in hand from each time on, with its 95 % band."""

    t_s: Array
    share: Array
    low: Array
    high: Array


def kaplan_meier(tries: Tries) -> Survival:
    """The curve that the timings alone give."""
    times = np.unique(tries.seconds[tries.is_finished])
    at_risk = np.array([(tries.seconds >= t).sum() for t in times], dtype=np.float64)
    ends = np.array(
        [(tries.seconds[tries.is_finished] == t).sum() for t in times], dtype=np.float64
    )
    share = np.asarray(np.cumprod(1 - ends / at_risk), dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        greenwood = np.cumsum(ends / (at_risk * (at_risk - ends)))
        off = SIGMAS * np.sqrt(greenwood) / np.log(share)
        low, high = share ** np.exp(-off), share ** np.exp(off)
    return Survival(times, share, _known(low, 0.0), _known(high, 1.0))


def _known(band: Array, otherwise: float) -> Array:
    """A band with its edge where nothing is left."""
    return np.asarray(np.nan_to_num(band, nan=otherwise), dtype=np.float64)


def distance(tries: Tries, law: Law) -> float:
    """The widest gap between a law and the timings' own curve, on both sides of each step."""
    curve = kaplan_meier(tries)
    before = np.concatenate(([1.0], curve.share[:-1]))
    model = 1 - law.cdf(curve.t_s)
    return float(np.max(np.maximum(np.abs(model - curve.share), np.abs(model - before))))


def fit_p_value(
    tries: Tries, law: Law, seed: int, drawn_from: Law | None = None, rounds: int = 100
) -> float:
    """How often timings made by the law itself, and fitted anew, lie further from their fit.

    Args:
        tries: the timings.
        law: the law that was fitted to them.
        seed: of the draws.
        drawn_from: the law with its spread between jobs, where that is known.
        rounds: how often it is tried.
    """
    rng = np.random.default_rng(seed)
    found = distance(tries, law)
    further = 0
    for _ in range(rounds):
        made = redrawn(tries, drawn_from or law, rng)
        if made is not None:
            fits = {each.law.name: each.law for each in fit_all(made)}
            further += distance(made, fits[law.name]) >= found
    return (further + 1) / (rounds + 1)


def redrawn(tries: Tries, law: Law, rng: np.random.Generator) -> Tries | None:
    """As many timings from a law, cut off as these were; None where too few finish to be fitted."""
    seconds = _drawn(tries, law, rng)
    if tries.censored:
        # A hold that cut a try off is known; one that did not is drawn from those known.
        cut = tries.seconds[~tries.is_finished]
        cuts = rng.random(tries.n) < tries.censored / tries.n
        drawn = np.where(cuts, rng.choice(cut, tries.n), np.inf)
        limit = np.where(tries.is_finished, drawn, tries.seconds)
        done = seconds <= limit
        made = Tries(np.minimum(seconds, limit), tuple(bool(each) for each in done))
    else:
        made = Tries(seconds, (True,) * tries.n)
    return made if fits_can_be(made) else None


def _drawn(tries: Tries, law: Law, rng: np.random.Generator) -> Array:
    """Durations; those of one job share their job's part, where the law has one."""
    if tries.job is None or not isinstance(law, Lognormal) or law.job_log_sd == 0:
        return law.sample(rng, tries.n)
    own = (law.job_log_sd * rng.standard_normal(tries.jobs))[tries.member]
    return law.median_s * np.exp(own + law.log_sd * rng.standard_normal(tries.n))


def resampled(tries: Tries, rng: np.random.Generator) -> Tries | None:
    """As many of the timings, drawn with return; whole jobs where jobs are known."""
    member = tries.member
    whole = [np.flatnonzero(member == job) for job in rng.choice(tries.jobs, tries.jobs)]
    at = np.concatenate(whole)
    labels = None
    if tries.job is not None:
        labels = tuple(str(new) for new, mine in enumerate(whole) for _ in mine)
    made = Tries(tries.seconds[at], tuple(tries.finished[i] for i in at), labels)
    return made if fits_can_be(made) else None


def fits_can_be(tries: Tries) -> bool:
    """Whether two readings finished at different times."""
    return len(set(tries.seconds[tries.is_finished].tolist())) > 1


def worth(tries: Tries, law: Lognormal) -> float:
    """How many readings of different jobs the finished ones are worth: tries of one job are alike.

    The variance of one over that of the mean of all.
    """
    n = float(tries.is_finished.sum())
    if tries.job is None or law.job_log_sd == 0:
        return n
    mean = law.job_log_sd**2 / tries.jobs + law.log_sd**2 / n
    return max(2.0, min(n, law.total_log_sd**2 / mean))


def upper_quantile(law: Lognormal, n: float, share: float, confidence: float = 0.95) -> float:
    """The lognormal tolerance limit: with this confidence a share of readings is done by then [s].

    Exact by the noncentral t distribution where none is cut off; those that finished stand for n
    where some are. Source: the usual one-sided normal tolerance factor, from memory.
    """
    from scipy.stats import nct, norm

    factor = float(nct.ppf(confidence, n - 1, norm.ppf(share) * np.sqrt(n))) / np.sqrt(n)
    return float(law.median_s * np.exp(factor * law.total_log_sd))


def median_interval(law: Lognormal, n: float) -> tuple[float, float]:
    """95 % interval of the lognormal median [s] from n readings."""
    from scipy.stats import t

    off = float(t.ppf(0.975, n - 1)) * law.total_log_sd / np.sqrt(n)
    return float(law.median_s * np.exp(-off)), float(law.median_s * np.exp(off))


def steps(curve: Survival) -> list[tuple[float, float]]:
    """The curve as a line of steps, from all at 0 s."""
    points = [(0.0, 1.0)]
    for t, share in zip(curve.t_s, curve.share, strict=True):
        points += [(float(t), points[-1][1]), (float(t), float(share))]
    assert all(a[0] <= b[0] for a, b in pairwise(points))
    return points
