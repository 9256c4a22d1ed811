"""Fits against truths that made the timings, and against published worked examples."""

import numpy as np
import pytest
from numpy.typing import NDArray

from farend_sim.hold_lab.timings.durations import Gamma, Law, Lognormal, Weibull
from farend_sim.hold_lab.timings.fit import fit_report
from farend_sim.hold_lab.timings.fitted import fit_all, fit_lognormal
from farend_sim.hold_lab.timings.spread import fit_spread
from farend_sim.hold_lab.timings.survival import distance, kaplan_meier, upper_quantile
from farend_sim.hold_lab.timings.times_file import Tries

REPAIR_COUNTS = (
    "0.2 0.3 0.5x4 0.6x2 0.7x3 0.8x2 1.0x4 1.1 1.3 1.5x4 2.0x2 2.2 2.5 2.7 3.0x2 3.3x2 4.0x2 "
    "4.5 4.7 5.0 5.4 5.5 7.0 7.5 8.8 9.0 10.3 22.0 24.5"
)
"""Repair times of a ground electronic system [h]: 46 observations (von Alven, from memory)."""
REPAIR_H = [
    float(hours)
    for hours, _, count in (each.partition("x") for each in REPAIR_COUNTS.split())
    for _ in range(int(count or 1))
]


def timed(seconds: list[float] | NDArray[np.float64]) -> Tries:
    """Timings that all finished."""
    return Tries(np.asarray(seconds, dtype=np.float64), (True,) * len(seconds))


def cut(seconds: NDArray[np.float64], hold_s: float, jobs: int = 0) -> Tries:
    """Timings under a hold; in turns of so many jobs, where a number of jobs is given."""
    done = tuple(bool(each) for each in seconds <= hold_s)
    names = tuple(str(at % jobs) for at in range(len(seconds))) if jobs else None
    return Tries(np.minimum(seconds, hold_s), done, names)


@pytest.mark.outside
def test_repair_times_of_the_handbook() -> None:
    """MIL-HDBK-338B 5.6.2.1.1, its data and answers from memory.

    Mean of ln 0.65879, spread 1.11435, median 1.932 h, MTTR 3.595 h, M(20 h) 0.982, t90 8.06 h,
    t95 12.08 h.
    """
    law = fit_lognormal(timed(REPAIR_H)).law

    assert isinstance(law, Lognormal)
    mean_h = law.median_s * np.exp(law.log_sd**2 / 2)
    found = [
        np.log(law.median_s),
        law.log_sd,
        law.median_s,
        mean_h,
        float(law.cdf(np.array([20.0]))[0]),
        law.quantile(0.9),
        law.quantile(0.95),
    ]
    assert found == pytest.approx([0.65879, 1.11435, 1.932, 3.595, 0.982, 8.06, 12.08], rel=6e-4)


@pytest.mark.outside
def test_kaplan_meier_is_scipys_curve_and_band() -> None:
    """The curve and its 95 % log-log band are those of scipy.stats.ecdf on the same timings."""
    from scipy.stats import CensoredData, ecdf

    rng = np.random.default_rng(5)
    tries = cut(Lognormal(30.0, 0.6).sample(rng, 60), 45.0)
    censored = CensoredData.right_censored(tries.seconds, ~tries.is_finished)

    theirs = ecdf(censored).sf
    ours = kaplan_meier(tries)

    at = np.searchsorted(theirs.quantiles, ours.t_s)
    band = theirs.confidence_interval(0.95, method="log-log")
    assert ours.share == pytest.approx(theirs.probabilities[at])
    assert ours.low == pytest.approx(band.low.probabilities[at], abs=1e-6)
    assert ours.high == pytest.approx(band.high.probabilities[at], abs=1e-6)


@pytest.mark.outside
@pytest.mark.parametrize("hold_s", [1e9, 45.0, 25.0])
def test_fits_are_scipys_own(hold_s: float) -> None:
    """Weibull and gamma log-likelihoods are scipy.stats' within 0.05, and no worse by 1e-4."""
    from scipy import stats

    tries = cut(Lognormal(30.0, 0.5).sample(np.random.default_rng(8), 80), hold_s)
    censored = stats.CensoredData.right_censored(tries.seconds, ~tries.is_finished)
    ours = {each.law.name: each.log_likelihood for each in fit_all(tries)}

    for name, of in (("weibull", stats.weibull_min), ("gamma", stats.gamma)):
        shape, _, scale = of.fit(censored, floc=0)
        done = of.logpdf(tries.seconds, shape, scale=scale)
        longer = of.logsf(tries.seconds, shape, scale=scale)
        theirs = float(np.where(tries.is_finished, done, longer).sum())
        assert ours[name] >= theirs - 1e-4
        assert ours[name] == pytest.approx(theirs, abs=0.05)


@pytest.mark.parametrize("truth", [Lognormal(30.0, 0.5), Weibull(40.0, 1.8), Gamma(10.0, 3.5)])
@pytest.mark.parametrize("hold_share", [1.0, 0.7])
def test_a_law_is_found_again(truth: Law, hold_share: float) -> None:
    """From 3000 timings, three tenths cut off or none, its own fit is the best and close."""
    seconds = truth.sample(np.random.default_rng(21), 3000)
    tries = cut(seconds, float(np.quantile(seconds, hold_share)))

    best = min(fit_all(tries), key=lambda each: each.aic).law

    assert truth.name == best.name
    assert best.quantile(0.5) == pytest.approx(truth.quantile(0.5), rel=0.03)
    assert best.quantile(0.95) == pytest.approx(truth.quantile(0.95), rel=0.06)
    assert distance(tries, best) < 0.03


def test_tries_thrown_away_make_readings_look_quick() -> None:
    """Cut-off tries count: without them the median comes out a fifth too short."""
    seconds = Lognormal(30.0, 0.5).sample(np.random.default_rng(2), 2000)
    tries = cut(seconds, 35.0)

    kept = fit_lognormal(tries).law.quantile(0.5)
    thrown = fit_lognormal(timed(tries.seconds[tries.is_finished])).law.quantile(0.5)

    assert kept == pytest.approx(30.0, rel=0.03)
    assert thrown < 25.0


@pytest.mark.parametrize("hold_s", [1e9, 50.0])
def test_both_spreads_are_found_again(hold_s: float) -> None:
    """60 jobs of 5 tries, cut off or not: between 0.43 and within 0.25, inside their interval."""
    rng = np.random.default_rng(17)
    own = 0.43 * rng.standard_normal(60)
    seconds = 30 * np.exp(np.tile(own, 5) + 0.25 * rng.standard_normal(300))

    spread = fit_spread(cut(seconds, hold_s, jobs=60))

    law = spread.law
    assert law is not None
    assert spread.between_low is not None
    assert spread.between_high is not None
    assert spread.between_low < 0.43 < spread.between_high
    assert law.log_sd == pytest.approx(0.25, rel=0.12)
    assert any("no limit" in each for each in spread.warnings)


def test_jobs_all_alike_are_told() -> None:
    """Where jobs do not differ, the parting is called a guess, and the interval reaches nought."""
    seconds = Lognormal(30.0, 0.4).sample(np.random.default_rng(4), 120)

    spread = fit_spread(cut(seconds, 1e9, jobs=20))

    assert any("may all be alike" in each for each in spread.warnings)
    assert spread.between_low == 0.0


def test_one_try_a_job_parts_nothing() -> None:
    """As many jobs as tries: no parting, and a warning instead."""
    seconds = Lognormal(30.0, 0.4).sample(np.random.default_rng(4), 20)

    spread = fit_spread(cut(seconds, 1e9, jobs=20))

    assert spread.law is None
    assert "do not part the spreads" in spread.warnings[0]


def test_ten_timings_plainly_read_off_promise_too_much() -> None:
    """A plug-in 95 % hold from ten covers under 90 % in 27 % of cases; the limit in few."""
    rng = np.random.default_rng(9)
    truth = Lognormal(30.0, 0.5)
    plain, sure = 0, 0
    for _ in range(1500):
        law = fit_lognormal(timed(truth.sample(rng, 10))).law
        assert isinstance(law, Lognormal)
        plain += truth.cdf(np.array([law.quantile(0.95)]))[0] < 0.90
        sure += truth.cdf(np.array([upper_quantile(law, 10, 0.95)]))[0] < 0.95

    assert plain / 1500 == pytest.approx(0.27, abs=0.04)
    assert sure / 1500 == pytest.approx(0.05, abs=0.02)


def test_few_and_cut_off_timings_are_warned_of() -> None:
    """Ten timings, seven cut off: both are said."""
    tries = cut(Lognormal(30.0, 0.5).sample(np.random.default_rng(3), 10), 22.0)

    warnings = fit_report(tries).warnings

    assert any("from so few" in each for each in warnings)
    assert any("were cut off" in each for each in warnings)
