"""The lab's lane beside the bench: the same pair, person and draws, and what both then hear."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.still import StillPair
from farend_sim.control.ear import Heard
from farend_sim.control.keypad import KeypadSettings
from farend_sim.files import load_scheme, load_situation, load_unit
from farend_sim.scheme_lab.population import find_population
from farend_sim.scheme_lab.trial.dialling import Done, carry_out, meant
from farend_sim.scheme_lab.trial.draw import Visit, begun, visit, wish
from farend_sim.scheme_lab.trial.lane import Lane
from farend_sim.scheme_lab.trial.trial import JOB_US, Trial, hand_of, one_job, set_up
from farend_sim.scheme_lab.trial.watched import Took
from farend_sim.unit.codes import compiled
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import FUNCTIONS
from line_model.equipment import Equipment

HERE = Path()
PLANTS = 16


@pytest.fixture(scope="module")
def trial() -> Trial:
    return Trial(
        schemes=(("offset", load_scheme("offset", HERE)),),
        unit=load_unit("reference", HERE),
        population=find_population("district"),
        jobs=3,
        seed=4,
    )


@dataclass
class OnBench:
    """A bench in the hands of a lab's person."""

    bench: Bench

    def __post_init__(self) -> None:
        self.took: list[Took] = []
        self._see(self.bench.unit._unit)  # what is worn is put round it

    def _see(self, unit: Unit) -> None:
        """Write down every input that the unit's table is given."""
        handle, wake = unit.handle, unit.wake

        def noted(effects: Any) -> Any:
            if unit.taken is not None:
                (heard, at_us), unit.taken = unit.taken, None
                hold_us = unit.hold_us if heard.input.does in FUNCTIONS else heard.hold_us
                self.took.append(Took(at_us, heard.input, unit.state, hold_us))
            return effects

        unit.handle = lambda event, at: noted(handle(event, at))  # type: ignore[method-assign]
        unit.wake = lambda at: noted(wake(at))  # type: ignore[method-assign]

    @property
    def now_us(self) -> int:
        return self.bench.now_us

    def press(self, key: str, settings: KeypadSettings) -> None:
        self.bench.press(key, settings)

    def advance_to(self, until_us: int) -> None:
        self.bench.advance_to(until_us)

    def hears(self, start_us: int) -> list[Heard]:
        return self.bench.hears(start_us)


def visited(trial: Trial, number: int, beyond: Equipment | None) -> Visit:
    """A plant as it is drawn, or with something else beyond the unit."""
    at = visit(trial.population, trial.seed, number)
    return at if beyond is None else replace(at, scenario=replace(at.scenario, beyond=beyond))


def on_bench(
    trial: Trial, number: int, beyond: Equipment | None = None
) -> list[tuple[Done, list[Took]]]:
    """All jobs at one plant, on a bench from beginning to end."""
    at = visited(trial, number, beyond)
    base = load_situation("good-pair")
    bench = Bench(replace(base, scenario=at.scenario, scheme=trial.schemes[0][1], unit=trial.unit))
    bench.clip_lead(at.lead)
    rig, out = OnBench(bench), []
    code = compiled(trial.schemes[0][1])
    for job in range(trial.jobs):
        set_up(bench, code, begun(at.kind, trial.seed, number, job), JOB_US * (job + 1))
        bench.hears(bench.now_us)
        rig.took.clear()
        hand = hand_of(trial, number, job, at, trial.schemes[0][1].keys)
        want = meant(code, wish(trial.seed, number, job))
        out.append((carry_out(rig, hand, want, lambda: rig.took), list(rig.took)))
    return out


def on_lane(
    trial: Trial, number: int, beyond: Equipment | None = None
) -> list[tuple[Done, list[Took]]]:
    """The same on a lane."""
    at = visited(trial, number, beyond)
    scheme = trial.schemes[0][1]
    code = compiled(scheme)
    pair = StillPair(at.scenario, trial.unit.electrical, at.lead)
    lane = Lane(pair, trial.unit, code, at.scenario.noise.level_dbm, at.scenario.seed)
    out = []
    for job in range(trial.jobs):
        done = one_job(trial, number, job, at, lane, code, scheme.keys)
        out.append((done, list(lane.watched.took)))
    return out


@pytest.mark.parametrize("number", range(PLANTS))
def test_lab_and_bench_agree_on_the_same_draws(trial: Trial, number: int) -> None:
    """To the microsecond at which the unit took each key's sense, and in every outcome."""
    assert on_lane(trial, number) == on_bench(trial, number)


@pytest.mark.parametrize("number", range(6))
def test_they_agree_in_the_middle_of_something_too(trial: Trial, number: int) -> None:
    """Jobs that begin in a hold, and just after one."""
    kinds = tuple(
        replace(one, in_hold_percent=60, after_hold_percent=40) for one in trial.population.plants
    )
    busy = replace(trial, population=replace(trial.population, plants=kinds), jobs=2)

    assert on_lane(busy, number) == on_bench(busy, number)


@pytest.mark.parametrize(
    "beyond", [Equipment(equipment="office", ringing=True), Equipment(equipment="sender")]
)
@pytest.mark.parametrize("number", range(3))
def test_they_agree_on_what_no_population_draws(
    trial: Trial, number: int, beyond: Equipment
) -> None:
    """An office that rings, and a test sender: to both of them the same sound."""
    assert on_lane(trial, number, beyond) == on_bench(trial, number, beyond)


def test_the_plants_compared_are_of_every_class(trial: Trial) -> None:
    """Dial tone, noise and trouble are among them."""
    classes = {visit(trial.population, trial.seed, n).class_name for n in range(PLANTS)}

    assert classes == {one.name for one in trial.population.plants}
