"""Laws of duration fitted to timings, cut-off ones included, by the greatest likelihood.

A try that the hold cut off counts with the chance of taking longer than that (right-censored).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from farend_sim.hold_lab.timings.durations import Array, Gamma, Law, Lognormal, Weibull
from farend_sim.hold_lab.timings.simplex import least_at
from farend_sim.hold_lab.timings.times_file import Tries

Done = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Fitted:
    """One law, and how likely it makes the timings."""

    law: Law
    log_likelihood: float

    @property
    def aic(self) -> float:
        """Akaike's criterion: less is better; each law here has two numbers."""
        return 4 - 2 * self.log_likelihood


def fit_all(tries: Tries) -> tuple[Fitted, ...]:
    """Every law fitted, lognormal first."""
    return fit_lognormal(tries), _fit_weibull(tries), _fit_gamma(tries)


def fit_lognormal(tries: Tries) -> Fitted:
    """The lognormal; its spread with n - 1 for the tries that finished, as handbooks have it."""
    logs, done = np.log(tries.seconds), tries.is_finished
    if done.all():
        mu, sigma = float(logs.mean()), float(logs.std())
    else:
        start = np.array([logs[done].mean(), np.log(logs[done].std() or 0.1)])
        mu, log_sigma = least_at(lambda at: -_lognormal(logs, done, at), start)[0]
        sigma = float(np.exp(log_sigma))
    finished = int(done.sum())
    likelihood = _lognormal(logs, done, np.array([mu, np.log(sigma)]))
    unbiased = sigma * float(np.sqrt(finished / (finished - 1)))
    return Fitted(Lognormal(float(np.exp(mu)), unbiased), likelihood)


def _lognormal(logs: Array, done: Done, at: Array) -> float:
    from scipy.special import log_ndtr

    z = (logs - at[0]) / np.exp(at[1])
    density = -z * z / 2 - at[1] - logs - np.log(2 * np.pi) / 2
    return float(np.where(done, density, log_ndtr(-z)).sum())


def _fit_weibull(tries: Tries) -> Fitted:
    logs, done = np.log(tries.seconds), tries.is_finished

    def minus(at: Array) -> float:
        shape = np.exp(at[1])
        power = np.exp(np.minimum(shape * (logs - at[0]), 600))
        density = at[1] - logs + shape * (logs - at[0])
        return -float(np.where(done, density, 0.0).sum() - power.sum())

    spread = float(logs[done].std())
    at, least = least_at(minus, np.array([logs[done].mean() + 0.3, np.log(1.2 / spread)]))
    return Fitted(Weibull(float(np.exp(at[0])), float(np.exp(at[1]))), -least)


def _fit_gamma(tries: Tries) -> Fitted:
    from scipy.special import gammaincc, gammaln

    seconds, done = tries.seconds, tries.is_finished
    logs = np.log(seconds)

    def minus(at: Array) -> float:
        shape, scaled = np.exp(at[1]), seconds / np.exp(at[0])
        density = shape * np.log(scaled) - scaled - logs - gammaln(shape)
        longer = np.log(np.maximum(gammaincc(shape, scaled), 1e-300))
        return -float(np.where(done, density, longer).sum())

    shape = 1 / float(logs[done].var())
    start = np.array([logs[done].mean() - np.log(shape), np.log(shape)])
    at, least = least_at(minus, start)
    return Fitted(Gamma(float(np.exp(at[0])), float(np.exp(at[1]))), -least)
