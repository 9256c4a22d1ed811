"""A whole job: its readings gathered into holds, their total time, and the best of those holds.

Readings in a row that want the same function share a hold where that costs less than one each.
Totals are exact (several.py); the spread of the total is simulated, try by try, with one and the
same pair and person throughout a job.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from farend_sim.hold_lab.cost import DIALLED_SHARE, Terms
from farend_sim.hold_lab.durations import Law, of_job_at
from farend_sim.hold_lab.fleet_file import times_of
from farend_sim.hold_lab.hearing import hearing
from farend_sim.hold_lab.job_file import Job
from farend_sim.hold_lab.scheme_times import Span, command_s, dial_s, release_s, span
from farend_sim.hold_lab.several import expected_several_s
from farend_sim.situation import Situation


@dataclass(frozen=True, slots=True)
class Held:
    """Readings made in one and the same hold."""

    function: str
    names: tuple[str, ...]
    laws: tuple[Law, ...]
    terms: Terms
    span: Span

    def expected_s(self, hold_s: float) -> float:
        """Until all of them are made and the next command can be given [s]."""
        return expected_several_s(self.laws, hold_s, self.terms)


@dataclass(frozen=True, slots=True)
class Planned:
    """One hold of the job with the length that is best for it."""

    held: Held
    hold_s: float
    expected_s: float
    default_expected_s: float
    """With the scheme's own hold."""


@dataclass(frozen=True, slots=True)
class Simulated:
    rounds: int
    mean_s: float
    error_s: float
    """Standard error of the mean."""
    quantile_s: dict[float, float]


@dataclass(frozen=True, slots=True)
class JobReport:
    job: Job
    planned: tuple[Planned, ...]
    expected_s: float
    """Each hold at its best, and what dialling those holds costs."""
    dials: int
    dial_s: float
    one_hold_s: float
    """The best single hold for the whole job."""
    one_expected_s: float
    default_expected_s: float
    """With the scheme's own holds and nothing dialled."""
    simulated: Simulated
    """Of the job with each hold at its best."""


def job_report(job: Job, situation: Situation, seed: int = 1, rounds: int = 4000) -> JobReport:
    """Plan a job's holds."""
    planned = _cheaper(job, situation)
    dial = dial_s(situation)
    dials = _dials(planned)
    holds = [each.held for each in planned]
    one_s, one = _best(lambda at: sum(each.expected_s(at) for each in holds), planned[0].held.span)
    return JobReport(
        job=job,
        planned=planned,
        expected_s=sum(each.expected_s for each in planned) + dials * dial,
        dials=dials,
        dial_s=dial,
        one_hold_s=one_s,
        one_expected_s=one + dial,
        default_expected_s=sum(each.default_expected_s for each in planned),
        simulated=simulate(planned, dials * dial, np.random.default_rng(seed), rounds),
    )


def _cheaper(job: Job, situation: Situation) -> tuple[Planned, ...]:
    """Each run of one function in one hold, or in a hold a reading, whichever costs less."""
    readings = [each for each in job.reading for _ in range(each.count)]
    out: list[Planned] = []
    for function, run in groupby(readings, key=lambda each: each.function):
        wanted = [(each.name, times_of(each, situation).law) for each in run]
        apart = [_plan(_held(function, [one], job, situation)) for one in wanted]
        together = _plan(_held(function, wanted, job, situation))
        less = together.expected_s <= sum(each.expected_s for each in apart)
        out += [together] if less else apart
    return tuple(out)


def _held(function: str, wanted: Sequence[tuple[str, Law]], job: Job, situation: Situation) -> Held:
    hears = hearing(situation, function).hears
    terms = Terms(
        command_s=job.command_s or command_s(situation, function),
        hears=hears,
        release_s=release_s(situation) if hears else 0.0,
        patience=job.patience,
    )
    names, laws = zip(*wanted, strict=True)
    return Held(function, names, laws, terms, span(situation.scheme, function))


def _plan(held: Held) -> Planned:
    if held.terms.hears:  # only a safety stop: what 99 % of jobs fit in
        enough = sum(law.quantile(DIALLED_SHARE) for law in held.laws)
        hold_s = held.span.near(enough)[-1]
    else:
        hold_s, _ = _best(held.expected_s, held.span)
    return Planned(held, hold_s, held.expected_s(hold_s), held.expected_s(held.span.default_s))


def _best(cost: Callable[[float], float], span: Span) -> tuple[float, float]:
    """The best of the holds that the scheme can express."""
    if not span.dialled:
        return span.default_s, cost(span.default_s)
    rough = np.unique(np.round(np.geomspace(span.shortest_s, span.longest_s, 60)))
    costs = [cost(float(at)) for at in rough]
    best = int(np.argmin(costs))
    low, high = rough[max(best - 1, 0)], rough[min(best + 1, len(rough) - 1)]
    fine = {float(at): cost(float(at)) for at in np.arange(low, high + 1)}
    hold_s = min(fine, key=lambda at: fine[at])
    return hold_s, fine[hold_s]


def _dials(planned: tuple[Planned, ...]) -> int:
    """How often the hold has to be set: wherever it differs from the one before."""
    dialled, now = 0, planned[0].held.span.default_s
    for each in planned:
        dialled += each.hold_s != now
        now = each.hold_s
    return dialled


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
        spent += _one_hold(laws, each.hold_s, each.held.terms, rng)
    return spent


def _one_hold(laws: list[Law], hold_s: float, terms: Terms, rng: np.random.Generator) -> float:
    spent, first, missed = 0.0, 0, 0
    while first < len(laws):
        if missed == terms.patience:  # a longer hold for this reading, tried until it fits
            long_s = laws[first].quantile(DIALLED_SHARE)
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
        early = terms.hears and done == len(laws)
        spent += terms.command_s + (at + terms.release_s if early else hold_s)
        missed = missed + 1 if done == first else 0
        first = done
    return spent
