"""How long a reading takes, from the contact's close to the number in hand: laws of time.

Law: times are seconds; a law answers with arrays and draws only from the generator it is given.
A slow pair is slow at every try, so a law may be a mixture over jobs: `jobs` parts it.
"""

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
JOBS_AT = np.linspace(-7.0, 7.0, 113)
"""Where jobs are taken, in standard deviations: evenly, which is exact for a bell to 1e-9."""


class Law(Protocol):
    """What every law of durations answers."""

    def __hash__(self) -> int: ...

    @property
    def name(self) -> str: ...

    def cdf(self, t: Array) -> Array:
        """The share of readings in hand by `t` [s]."""

    def partial(self, t: Array) -> Array:
        """The mean of the duration where it is no longer than `t`, and 0 where it is [s]."""

    def quantile(self, share: float) -> float:
        """The time by which a share of readings is in hand [s]."""

    def sample(self, rng: np.random.Generator, n: int) -> Array:
        """Durations of `n` tries, each of another job [s]."""


@dataclass(frozen=True, slots=True)
class Lognormal:
    """Lognormal times behind a fixed part, with one spread within a job and one between jobs."""

    median_s: float
    """Of the part that varies."""
    log_sd: float
    """Within a job: from try to try."""
    job_log_sd: float = 0.0
    """Between jobs: this pair and this person against others."""
    shift_s: float = 0.0
    """What never varies: the instrument's own stages."""

    @property
    def name(self) -> str:
        return "lognormal"

    @property
    def total_log_sd(self) -> float:
        return max(float(np.hypot(self.log_sd, self.job_log_sd)), 1e-6)

    def cdf(self, t: Array) -> Array:
        from scipy.special import ndtr

        return np.asarray(ndtr(self._z(t)), dtype=np.float64)

    def partial(self, t: Array) -> Array:
        from scipy.special import ndtr

        s = self.total_log_sd
        z = self._z(t)
        mean = self.median_s * np.exp(s * s / 2)
        return np.asarray(mean * ndtr(z - s) + self.shift_s * ndtr(z), dtype=np.float64)

    def quantile(self, share: float) -> float:
        from scipy.special import ndtri

        return self.shift_s + self.median_s * float(np.exp(self.total_log_sd * ndtri(share)))

    def sample(self, rng: np.random.Generator, n: int) -> Array:
        return self.shift_s + self.median_s * np.exp(self.total_log_sd * rng.standard_normal(n))

    def of_job(self, at: float) -> "Lognormal":
        """The law of one job, `at` standard deviations from the middle one."""
        median_s = self.median_s * float(np.exp(at * self.job_log_sd))
        return replace(self, median_s=median_s, job_log_sd=0.0)

    def _z(self, t: Array) -> Array:
        over = np.maximum(np.asarray(t, dtype=np.float64) - self.shift_s, 1e-300)
        return np.asarray(np.log(over / self.median_s) / self.total_log_sd, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Weibull:
    scale_s: float
    shape: float

    @property
    def name(self) -> str:
        return "weibull"

    def cdf(self, t: Array) -> Array:
        return np.asarray(-np.expm1(-self._power(t)), dtype=np.float64)

    def partial(self, t: Array) -> Array:
        from scipy.special import gamma, gammainc

        more = 1 + 1 / self.shape
        whole = self.scale_s * gamma(more)
        return np.asarray(whole * gammainc(more, self._power(t)), dtype=np.float64)

    def quantile(self, share: float) -> float:
        return float(self.scale_s * (-np.log1p(-share)) ** (1 / self.shape))

    def sample(self, rng: np.random.Generator, n: int) -> Array:
        return self.scale_s * rng.weibull(self.shape, n)

    def _power(self, t: Array) -> Array:
        return np.asarray((np.maximum(t, 0.0) / self.scale_s) ** self.shape, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class Gamma:
    scale_s: float
    shape: float

    @property
    def name(self) -> str:
        return "gamma"

    def cdf(self, t: Array) -> Array:
        from scipy.special import gammainc

        return np.asarray(gammainc(self.shape, np.maximum(t, 0.0) / self.scale_s), dtype=np.float64)

    def partial(self, t: Array) -> Array:
        from scipy.special import gammainc

        mean = self.scale_s * self.shape
        inside = gammainc(self.shape + 1, np.maximum(t, 0.0) / self.scale_s)
        return np.asarray(mean * inside, dtype=np.float64)

    def quantile(self, share: float) -> float:
        from scipy.special import gammaincinv

        return self.scale_s * float(gammaincinv(self.shape, share))

    def sample(self, rng: np.random.Generator, n: int) -> Array:
        return rng.gamma(self.shape, self.scale_s, n)


def jobs(law: Law) -> list[tuple[float, Law]]:
    """The kinds of jobs that a law mixes, each with its share."""
    if not isinstance(law, Lognormal) or law.job_log_sd == 0:
        return [(1.0, law)]
    shares = bell(JOBS_AT)
    return [(float(w), law.of_job(float(at))) for w, at in zip(shares, JOBS_AT, strict=True)]


def bell(at: Array) -> Array:
    """The shares of jobs that lie so many standard deviations from the middle one."""
    heights = np.exp(-at * at / 2)
    return np.asarray(heights / heights.sum(), dtype=np.float64)


def of_job_at(law: Law, at: float) -> Law:
    """The law of the job `at` standard deviations from the middle; one without jobs as it is."""
    return law.of_job(at) if isinstance(law, Lognormal) else law
