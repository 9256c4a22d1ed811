"""A planned job done many times, try by try: one pair and one person throughout each job."""

from dataclasses import dataclass

import numpy as np

from farend_sim.hold_lab.cost import Terms, dialled_hold_s
from farend_sim.hold_lab.job.planned import Planned
from farend_sim.hold_lab.timings.durations import Law, of_job_at


@dataclass(frozen=True, slots=True)
class Simulated:
    rounds: int
    mean_s: float
    error_s: float
    """Standard error of the mean."""
    quantile_s: dict[float, float]


def simulate(
    planned: tuple[Planned, ...], extra_s: float, rng: np.random.Generator, rounds: int
) -> Simulated:
    """Do the job many times."""
    totals = np.array([_once(planned, rng) + extra_s for _ in range(rounds)])
    at = (0.1, 0.5, 0.9)
    return Simulated(
        rounds,
        float(totals.mean()),
        float(totals.std(ddof=1) / np.sqrt(rounds)),
        dict(zip(at, map(float, np.quantile(totals, at)), strict=True)),
    )


def _once(planned: tuple[Planned, ...], rng: np.random.Generator) -> float:
    """One job, hold by hold."""
    job = float(rng.standard_normal())
    spent = 0.0
    for each in planned:
        laws = [of_job_at(law, job) for law in each.held.laws]
        if each.held.resumes:
            spent += _resumed(laws[0], each.hold_s, each.held.terms, rng)
            continue
        spent += _one_hold(laws, each.held.laws, each.hold_s, each.held.terms, rng)
    return spent


def _resumed(law: Law, hold_s: float, terms: Terms, rng: np.random.Generator) -> float:
    takes_s = float(law.sample(rng, 1)[0])
    holds = int(np.ceil(takes_s / hold_s))
    early = terms.hears and rng.random() < terms.release_share
    own_s = takes_s + terms.release_s if early else holds * hold_s
    return holds * terms.command_s + own_s


def _one_hold(
    laws: list[Law],
    wholes: tuple[Law, ...],
    hold_s: float,
    terms: Terms,
    rng: np.random.Generator,
) -> float:
    spent, first, missed = 0.0, 0, 0
    while first < len(laws):
        if missed == terms.patience:  # a longer hold for this reading, tried until it fits
            long_s = dialled_hold_s(laws[first], wholes[first])
            spent += terms.command_s
            while True:
                spent += terms.command_s + long_s
                if float(laws[first].sample(rng, 1)[0]) <= long_s:
                    break
            first, missed = first + 1, 0
            continue
        done, at = first, 0.0
        while done < len(laws):
            at += float(laws[done].sample(rng, 1)[0])
            if at > hold_s:
                break
            done += 1
        early = terms.hears and done == len(laws) and rng.random() < terms.release_share
        spent += terms.command_s + (at + terms.release_s if early else hold_s)
        missed = missed + 1 if done == first else 0
        first = done
    return spent
