"""The price of a hold: closed forms against brute force, and against figures worked elsewhere."""

from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from farend_sim.hold_lab.cost import Terms, expected_s, least, near_best, price, searched
from farend_sim.hold_lab.timings.durations import Gamma, Law, Lognormal, Weibull

LAWS = [
    Lognormal(30.0, 0.5),
    Lognormal(20.0, 0.4, shift_s=5.0),
    Weibull(40.0, 1.7),
    Gamma(9.0, 4.0),
]
RNG_SEED = 11
TRIES = 400_000


def brute_force(law: Law, hold_s: float, terms: Terms) -> tuple[float, float, float]:
    """Mean and standard error of the time until the next command, and the mean until in hand."""
    takes_s = law.sample(np.random.default_rng(RNG_SEED), TRIES)
    fits = takes_s <= hold_s
    ends_s = takes_s + terms.release_s if terms.hears else np.full(TRIES, hold_s)
    tries_s = terms.command_s + np.where(fits, ends_s, hold_s)
    # A reading is made at each try that fits: cut the tries there and sum each piece.
    last = np.flatnonzero(fits)
    sums = np.diff(np.concatenate(([0.0], np.cumsum(tries_s)[last])))
    in_hand = sums - np.where(fits, ends_s, 0.0)[last] + takes_s[last]
    return float(sums.mean()), float(sums.std() / np.sqrt(len(sums))), float(in_hand.mean())


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.name)
@pytest.mark.parametrize("hears", [False, True])
@pytest.mark.parametrize("hold_s", [25.0, 60.0])
def test_closed_forms_are_what_tries_come_to(law: Law, hears: bool, hold_s: float) -> None:
    """Until the next command and until in hand, deaf and hearing, within four standard errors."""
    terms = Terms(command_s=10.0, release_share=float(hears), release_s=8.0 if hears else 0.0)

    mean_s, error_s, in_hand_s = brute_force(law, hold_s, terms)

    found = price(law, np.array([hold_s]), terms)
    assert found.expected_s[0] == pytest.approx(mean_s, abs=4 * error_s)
    assert found.in_hand_s[0] == pytest.approx(in_hand_s, abs=5 * error_s)


def test_a_hold_in_which_nothing_fits_costs_all_its_tries() -> None:
    """A reading of 150 s in a hold of 60: all tries of patience are lost, then it is dialled."""
    law = Lognormal(30.0, 0.3, 0.3, shift_s=150.0)

    short, long = (expected_s(law, hold_s, Terms(command_s=10.0)) for hold_s in (60.0, 260.0))

    assert short - 20 * (10.0 + 60.0) == pytest.approx(long, rel=0.2)


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.name)
def test_partial_means_and_quantiles_agree_with_the_law(law: Law) -> None:
    """E[X; X <= t] is the integral of t f, and a quantile's share is its own."""
    t = np.linspace(0.0, 50.0, 200_001)
    middle = (t[1:] + t[:-1]) / 2

    summed = float((middle * np.diff(law.cdf(t))).sum())

    assert summed == pytest.approx(float(law.partial(np.array([50.0]))[0]), rel=1e-6)
    assert float(law.cdf(np.array([law.quantile(0.9)]))[0]) == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("median_s", "log_sd", "command_s", "hold_s", "expected"),
    [
        (30.0, 0.5, 1e-9, 30.0, 50.977),
        (30.0, 0.5, 10.0, 60.0, 36.428),
        (30.0, 1.0, 1e-9, 60.0, 44.208),
        (30.0, 1.0, 10.0, 120.0, 46.813),
        (60.0, 0.7, 1e-9, 120.0, 79.151),
    ],
)
def test_restarts_of_work_that_ends_early_cost_what_was_worked_out(
    median_s: float, log_sd: float, command_s: float, hold_s: float, expected: float
) -> None:
    """(E[min(X, h)] + c (1 - F)) / F: a released hold whose first command is free.

    The restart formula: Luby, Sinclair and Zuckerman 1993, from memory; worked by another program.
    """
    terms = Terms(command_s=command_s, release_share=1.0)

    found = expected_s(Lognormal(median_s, log_sd), hold_s, terms) - command_s

    assert found == pytest.approx(expected, abs=0.001)


def test_the_best_hold_is_the_least_of_a_fine_search() -> None:
    """No hold on a grid of 10 ms costs less, and the edges of 5 % are where it costs 5 % more."""
    law, terms = Lognormal(30.0, 0.5), Terms(command_s=10.0)
    at = np.arange(5.0, 300.0, 0.01)
    costs = (10.0 + at) / law.cdf(at)

    def cost(hold_s: NDArray[np.float64]) -> NDArray[np.float64]:
        return price(law, hold_s, terms).expected_s

    best_s, best = least(cost, *searched(law))
    low_s, high_s = near_best(cost, *searched(law))
    inside = at[costs <= 1.05 * costs.min()]
    assert (best_s, best) == (
        pytest.approx(at[costs.argmin()], abs=0.02),
        pytest.approx(costs.min(), rel=1e-8),
    )
    assert (low_s, high_s) == (
        pytest.approx(inside[0], abs=0.02),
        pytest.approx(inside[-1], abs=0.02),
    )


def patient(law: Lognormal, hold_s: float, terms: Terms, jobs: int = 60_000) -> tuple[float, float]:
    """Jobs done one after another, each with its own pace; mean and standard error."""
    rng = np.random.default_rng(3)
    totals = []
    for _ in range(jobs):
        own = law.of_job(float(rng.standard_normal()))
        spent, misses = 0.0, 0
        while misses < terms.patience:
            spent += terms.command_s + hold_s
            if own.sample(rng, 1)[0] <= hold_s:
                break
            misses += 1
        else:
            spent += terms.command_s
            long_s = max(own.quantile(0.99), law.quantile(0.99))
            while True:
                spent += terms.command_s + long_s
                if own.sample(rng, 1)[0] <= long_s:
                    break
        totals.append(spent)
    return float(np.mean(totals)), float(np.std(totals) / np.sqrt(jobs))


def test_jobs_that_differ_cost_what_jobs_come_to() -> None:
    """The mean over jobs, with an end to patience, is what jobs played one by one come to."""
    law, terms = Lognormal(30.0, 0.25, 0.43), Terms(command_s=10.0, patience=8)

    mean_s, error_s = patient(law, 55.0, terms, 20_000)

    assert expected_s(law, 55.0, terms) == pytest.approx(mean_s, abs=4 * error_s)


def test_spread_between_jobs_moves_the_best_hold_far_up() -> None:
    """With one and the same total spread: 43 s where tries differ, towards 80 s where jobs do."""
    best = {}
    for patience in (20, 1000):
        terms = Terms(command_s=10.0, patience=patience)
        for name, law in (
            ("tries", Lognormal(30.0, 0.4974)),
            ("jobs", Lognormal(30.0, 0.25, 0.43)),
        ):
            best[name, patience], _ = least(
                lambda at, law=law, terms=terms: price(law, at, terms).expected_s, *searched(law)
            )

    assert {key: round(value) for key, value in best.items()} == {
        ("tries", 20): 43,
        ("jobs", 20): 66,
        ("tries", 1000): 43,
        ("jobs", 1000): 79,
    }


def test_without_an_end_to_patience_the_mean_has_no_limit() -> None:
    """Jobs that differ more than tries: each tenfold patience adds, and never less than before."""
    law = Lognormal(30.0, 0.25, 0.43)
    costs = [
        expected_s(law, 41.0, Terms(command_s=10.0, patience=10**power)) for power in range(1, 6)
    ]

    added = np.diff(costs)
    assert all(later > before > 0 for before, later in pairwise(added))


@pytest.mark.parametrize("patience", [2, 3, 20])
def test_no_hold_that_is_meant_to_fail_is_best(patience: int) -> None:
    """Giving up on purpose is no way to learn a job's pace: the best hold fits most readings."""
    law, terms = Lognormal(30.0, 0.25, 0.6), Terms(command_s=10.0, patience=patience)
    best_s, _ = least(lambda at: price(law, at, terms).expected_s, *searched(law))

    assert float(law.cdf(np.array([best_s]))[0]) > 0.75
