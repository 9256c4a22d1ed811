"""Stopwatch timings fitted: which law, how well, how surely, with all doubts said.

The best law is the one with the least Akaike criterion; lognormal unless another is better by more
than 2, since times of hand work are known to be lognormal (MIL-HDBK-338B 5.6.2.1).
"""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.hold_lab.timings.durations import Law, Lognormal
from farend_sim.hold_lab.timings.fitted import Fitted, fit_all
from farend_sim.hold_lab.timings.spread import Spread, fit_spread
from farend_sim.hold_lab.timings.survival import (
    Survival,
    distance,
    fit_p_value,
    kaplan_meier,
    median_interval,
    upper_quantile,
    worth,
)
from farend_sim.hold_lab.timings.times_file import Tries

CLEARLY = 2.0
"""So much better another law must be than the lognormal, by Akaike's criterion: a choice."""
SHARES = (0.5, 0.9, 0.95, 0.99)


@dataclass(frozen=True, slots=True)
class FitReport:
    """Everything that the timings say."""

    tries: Tries
    fits: tuple[Fitted, ...]
    best: Fitted
    lognormal: Lognormal
    spread: Spread
    curve: Survival
    gap: float
    """The widest gap between the best law and the curve."""
    p_value: float
    median_s: tuple[float, float]
    """95 % interval of the lognormal median."""
    upper_s: dict[float, float]
    """By share: the 95 % tolerance limit."""
    warnings: tuple[str, ...]

    @property
    def law(self) -> Law:
        """What a design goes by: both spreads where they could be parted, or else the best law."""
        return self.best.law if self.spread.law is None else self.spread.law


def fit_report(tries: Tries, seed: int = 1) -> FitReport:
    """Fit timings and say how good it is."""
    fits = fit_all(tries)
    least = min(fits, key=lambda each: each.aic)
    best = least if least.aic < fits[0].aic - CLEARLY else fits[0]
    spread = fit_spread(tries)
    lognormal = fits[0].law
    assert isinstance(lognormal, Lognormal)
    p_value = fit_p_value(tries, best.law, seed, spread.law)
    whole = spread.law or lognormal
    n = worth(tries, whole)
    return FitReport(
        tries=tries,
        fits=fits,
        best=best,
        lognormal=lognormal,
        spread=spread,
        curve=kaplan_meier(tries),
        gap=distance(tries, best.law),
        p_value=p_value,
        median_s=median_interval(whole, n),
        upper_s={share: upper_quantile(whole, n, share) for share in SHARES},
        warnings=(*_doubts(tries, p_value), *spread.warnings),
    )


def _doubts(tries: Tries, p_value: float) -> Iterator[str]:
    finished = tries.n - tries.censored
    if finished < 20:
        yield f"{finished} finished readings: a 95 % hold from so few is a guess; see the limits"
    if tries.censored > tries.n / 2:
        yield f"{tries.censored} of {tries.n} were cut off: the upper half is the law's, not yours"
    if p_value < 0.05:
        yield f"no law here fits well (p = {p_value:.2g}); two kinds of reading mixed?"
