"""A trial: schemes on the same pairs, dialled by the same people, real samples all the way.

Law: one task is one plant with all its jobs and all schemes; its row holds what happened, and every
figure of a report is computed from rows.
"""

from dataclasses import dataclass
from typing import Any, Protocol

from farend_sim.bench.pair.still import StillPair
from farend_sim.scheme_lab.check.replay import KEY_US
from farend_sim.scheme_lab.population import Population
from farend_sim.scheme_lab.trial.dialling import Done, Hand, carry_out, meant
from farend_sim.scheme_lab.trial.draw import Begun, Visit, begun, fractions, visit, wish
from farend_sim.scheme_lab.trial.lane import Lane
from farend_sim.unit.codes import CompiledScheme, compiled
from farend_sim.unit.events import ButtonPressed, DigitHeard, Event, PowerBack, PowerLost
from farend_sim.unit.keying import keys_for
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile

JOB_US = 100_000_000
"""Virtual time between the beginnings of two jobs at a plant; longer than all tries of one.
A choice, no source."""
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
    """Do one job on a lane, from an idle unit or in the middle of what was left on it."""
    set_up(lane, code, begun(at.kind, trial.seed, number, job), JOB_US * (job + 1))
    lane.hears(lane.now_us)
    lane.watched.took.clear()
    hand = hand_of(trial, number, job, at, pad)
    want = meant(code, wish(trial.seed, number, job))
    return carry_out(lane, hand, want, lambda: lane.watched.took)


class Reachable(Protocol):
    """A unit that somebody stands at: on a lane of the lab, or on a bench."""

    def advance_to(self, until_us: int) -> None:
        """Let time pass."""

    def at_unit(self, event: Event) -> None:
        """Do something to the unit."""


def set_up(rig: Reachable, code: CompiledScheme, begun: Begun | None, start_us: int) -> None:
    """Give the unit its power anew, and let it hold, or have held, what it shall; then the job."""
    asked_us = start_us - (begun.before_us if begun else 0)
    rig.advance_to(asked_us - 1_000_000)
    rig.at_unit(PowerLost())
    rig.at_unit(PowerBack())
    if begun is not None:
        keys = code.knock + keys_for(code, code.of(begun.does))
        for at, key in enumerate(keys):
            rig.advance_to(asked_us + at * KEY_US)
            rig.at_unit(DigitHeard(key))
        if begun.ended_us is not None:
            rig.advance_to(start_us - begun.ended_us)
            rig.at_unit(ButtonPressed())
    rig.advance_to(start_us)


def hand_of(trial: Trial, number: int, job: int, at: Visit, pad: str) -> Hand:
    """Return the hand that does a job: the same for every scheme."""
    return Hand(
        fingers=trial.population.fingers,
        person=at.person,
        pad=pad,
        slips=fractions(trial.seed, number, job, 0),
        pace=fractions(trial.seed, number, job, 1),
    )
