"""A whole job: its readings gathered into holds, their total time, and the best of those holds.

Readings in a row that want the same function share a hold where that costs less than one each.
Totals are exact (several.py); the spread of the total is simulated, try by try, with one and the
same pair and person throughout a job.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from farend_sim.hold_lab.cost import DIALLED_SHARE
from farend_sim.hold_lab.job.job_file import Job
from farend_sim.hold_lab.job.planned import OneHold, Planned
from farend_sim.hold_lab.job.simulated import Simulated, simulate
from farend_sim.hold_lab.on_pair.meter_in_use import law_of
from farend_sim.hold_lab.on_pair.terms import hearing, terms_of
from farend_sim.hold_lab.scheme_times import Span, dial_s, span
from farend_sim.situation import Situation


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
    dial = dial_s(situation)
    planned = _kept(_cheaper(job, situation), dial)
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
    timed = [(each, law_of(each, situation)) for each in job.reading for _ in range(each.count)]
    out: list[Planned] = []
    for (function, resumes), run in groupby(timed, lambda of: (of[0].function, of[0].resumes)):
        names, laws = zip(*((each.name, law) for each, law in run), strict=True)
        terms = terms_of(situation, hearing(situation, function), job.command_s, job.patience)
        whole = OneHold(function, names, laws, terms, span(situation.scheme, function), resumes)
        apart = [_plan(each) for each in whole.apart()]
        together = None if resumes else _plan(whole)
        if together and together.expected_s <= sum(each.expected_s for each in apart):
            out.append(together)
        else:
            out += apart
    return tuple(out)


def _kept(planned: tuple[Planned, ...], dial: float) -> tuple[Planned, ...]:
    """Keep the hold that is set wherever another gains less than dialling it costs."""
    out: list[Planned] = []
    now_s = planned[0].held.span.default_s
    for each in planned:
        cost = each.held.expected_s(now_s)
        if cost <= each.expected_s + dial:
            out.append(replace(each, hold_s=now_s, expected_s=cost))
        else:
            out.append(each)
            now_s = each.hold_s
    return tuple(out)


def _plan(held: OneHold) -> Planned:
    if held.terms.hears:  # only a safety stop: what 99 % of jobs fit in
        enough = sum(law.quantile(DIALLED_SHARE) for law in held.laws)
        hold_s = held.span.near(enough)[-1]
    else:
        hold_s, _ = _best(held.expected_s, held.span)
    return Planned(held, hold_s, held.expected_s(hold_s), held.expected_s(held.span.default_s))


def _best(cost: Callable[[float], float], span: Span) -> tuple[float, float]:
    """The best of the holds that the scheme can express."""
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
