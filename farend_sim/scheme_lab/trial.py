"""A trial: schemes on the same pairs, dialled by the same people, real samples all the way.

Law: one task is one plant with all its jobs and all schemes; its row holds what happened, and every
figure of a report is computed from rows.
"""

from dataclasses import dataclass
from typing import Any

from farend_sim.bench.still import StillPair
from farend_sim.scheme_lab.draw import Visit, fractions, visit, wish
from farend_sim.scheme_lab.job import Done, Hand, carry_out, meant
from farend_sim.scheme_lab.lane import Lane
from farend_sim.scheme_lab.population import Population
from farend_sim.unit.codes import CompiledScheme, Scheme
from farend_sim.unit.codes import compile as compiled
from farend_sim.unit.events import PowerBack, PowerLost
from farend_sim.unit_file import UnitFile

JOB_US = 100_000_000
"""Virtual time between the beginnings of two jobs at a plant; longer than all tries of one."""
OUTCOMES = ("done", "refused", "lost", "other")


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """All that a trial depends on."""

    schemes: tuple[tuple[str, Scheme], ...]
    """By the names they are reported under."""
    unit: UnitFile
    population: Population
    jobs: int
    """At each plant."""
    seed: int


def plant_row(trial: Trial, number: int) -> dict[str, Any]:
    """Do all jobs at one plant with every scheme; return what happened, job by job."""
    at = visit(trial.population, trial.seed, number)
    pair = StillPair(at.scenario, trial.unit.electrical, at.lead)
    done = {name: _jobs(trial, number, at, pair, scheme) for name, scheme in trial.schemes}
    return {"plant": number, "class": at.class_name, "schemes": done}


def _jobs(
    trial: Trial, number: int, at: Visit, pair: StillPair, scheme: Scheme
) -> dict[str, list[Any]]:
    code = compiled(scheme)
    lane = Lane(pair, trial.unit, code, at.scenario.noise.level_dbm, at.scenario.seed)
    rows = [one_job(trial, number, job, at, lane, code, scheme.keys) for job in range(trial.jobs)]
    return {
        "outcome": [OUTCOMES.index(row.outcome) for row in rows],
        "first": [int(row.first) for row in rows],
        "tries": [row.tries for row in rows],
        "keys": [row.keys for row in rows],
        "ms": [row.duration_us // 1000 for row in rows],
    }


def one_job(
    trial: Trial,
    number: int,
    job: int,
    at: Visit,
    lane: Lane,
    code: CompiledScheme,
    pad: str,
) -> Done:
    """Do one job on a lane, from a unit that has just been given its power."""
    start_us = JOB_US * (job + 1)
    lane.advance_to(start_us - 1_000_000)
    lane.at_unit(PowerLost())
    lane.at_unit(PowerBack())
    lane.advance_to(start_us)
    lane.hears(start_us)
    lane.watched.took.clear()
    hand = hand_of(trial, number, job, at, pad)
    want = meant(code, wish(trial.seed, number, job))
    return carry_out(lane, hand, want, lambda: lane.watched.took)


def hand_of(trial: Trial, number: int, job: int, at: Visit, pad: str) -> Hand:
    """Return the hand that does a job: the same for every scheme."""
    return Hand(
        fingers=trial.population.fingers,
        person=at.person,
        pad=pad,
        slips=fractions(trial.seed, number, job, 0),
        pace=fractions(trial.seed, number, job, 1),
    )
