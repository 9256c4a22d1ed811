"""What is drawn for a trial: a plant, a person and a keypad at it, and what is to be done.

Law: every draw is a function of (seed, plant, job) and nothing else, so that schemes are tried on
the same pairs by the same people, and a task needs no other task.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from farend_sim.bench.pair.wiring import Lead
from farend_sim.control.keypad import KeypadSettings
from farend_sim.scenario import Noise, Scenario
from farend_sim.scheme_lab.population import PlantClass, Population, Span
from farend_sim.unit.table import DOES, FUNCTIONS, Does, Function
from line_model.equipment import Equipment
from line_model.plant import Plant, Section, Tap
from line_model.troubles import Battery, Induction, Leak, Leg, Series, Trouble, Wet

Draw = np.random.Generator


@dataclass(frozen=True, slots=True)
class Person:
    """Who dials at a plant, and on what."""

    on_ms: float
    off_ms: float
    slip_percent: float
    listens: bool
    react_us: int
    keypad: KeypadSettings


@dataclass(frozen=True, slots=True)
class Visit:
    """A plant, what is on it, and who has come there."""

    kind: PlantClass
    scenario: Scenario
    lead: Lead
    person: Person

    @property
    def class_name(self) -> str:
        return self.kind.name


def visit(population: Population, seed: int, number: int) -> Visit:
    """Draw one plant and who dials there."""
    draw = np.random.default_rng([seed, number])
    shares = np.array([one.share for one in population.plants])
    # a plant's class goes by its number, so that every class has its share exactly
    place = (number * 0.6180339887498949) % 1.0
    at = min(int(np.searchsorted(np.cumsum(shares / shares.sum()), place)), len(shares) - 1)
    kind = population.plants[at]
    dial = bool(draw.uniform(0, 100) < kind.dial_percent)
    person = _person(population, draw)
    scenario = Scenario(
        format=1,
        seed=int(np.random.SeedSequence([seed, number, 1]).generate_state(1)[0]),
        plant=_plant(kind, draw),
        keypad=person.keypad,
        noise=Noise(level_dbm=_within(draw, kind.noise_dbm)),
        beyond=Equipment(equipment="office" if dial else "none"),
    )
    troubles = _troubles(kind, scenario.plant.length_m, draw)
    scenario = replace(scenario, trouble=troubles)
    return Visit(kind, scenario, "loop" if dial else "clear", person)


def _within(draw: Draw, span: Span) -> float:
    return float(draw.uniform(*span))


def _person(population: Population, draw: Draw) -> Person:
    fingers, senders = population.fingers, population.senders
    return Person(
        on_ms=_within(draw, fingers.on_ms),
        off_ms=_within(draw, fingers.off_ms),
        slip_percent=_within(draw, fingers.slip_percent),
        listens=bool(draw.uniform(0, 100) < fingers.listens_percent),
        react_us=round(1e6 * _within(draw, fingers.react_s)),
        keypad=KeypadSettings(
            level_dbm=_within(draw, senders.level_dbm),
            twist_db=_within(draw, senders.twist_db),
            frequency_error_percent=_within(draw, senders.frequency_error_percent),
        ),
    )


def _plant(kind: PlantClass, draw: Draw) -> Plant:
    length_m, count = _within(draw, kind.length_m), round(_within(draw, kind.sections))
    parts = draw.dirichlet(np.full(count, 3.0)) * length_m
    sections = tuple(
        Section(gauge_awg=kind.gauges_awg[int(draw.integers(len(kind.gauges_awg)))], length_m=part)
        for part in map(float, parts)
    )
    taps: tuple[Tap, ...] = ()
    if draw.uniform(0, 100) < kind.tap_percent:
        at_m = float(draw.uniform(0.05, 0.95) * length_m)
        gauge_awg = kind.gauges_awg[int(draw.integers(len(kind.gauges_awg)))]
        taps = (Tap(at_m=at_m, length_m=_within(draw, kind.tap_m), gauge_awg=gauge_awg),)
    return Plant(section=sections, tap=taps, temperature_c=_within(draw, kind.temperature_c))


def _troubles(kind: PlantClass, length_m: float, draw: Draw) -> tuple[Trouble, ...]:
    out: list[Trouble] = []
    if draw.uniform(0, 100) < kind.induction_percent:
        out.append(Induction(kind="induction", rms_volt=_within(draw, kind.induction_volt)))
    if kind.troubles:
        wrong = kind.troubles[int(draw.integers(len(kind.troubles)))]
        out.append(_trouble(wrong, length_m, draw))
    return tuple(out)


def _trouble(wrong: str, length_m: float, draw: Draw) -> Trouble:
    at_m = float(draw.uniform(0.05, 0.95) * length_m)
    leg: Leg = "tip" if draw.integers(2) else "ring"
    ohm = float(10 ** draw.uniform(2.5, 5.5))
    if wrong == "short":
        low_ohm = float(10 ** draw.uniform(-0.5, 2))
        return Leak(kind="leak", between=("tip", "ring"), at_m=at_m, ohm=low_ohm)
    if wrong == "series":
        return Series(kind="series", conductor=leg, at_m=at_m, ohm=ohm)
    if wrong == "open-leg":
        return Series(kind="series", conductor=leg, at_m=at_m)
    if wrong == "wet":
        to_m = min(length_m, at_m + float(draw.uniform(10, 200)))
        return Wet(
            kind="wet", between=("tip", "ring"), from_m=at_m, to_m=to_m, ohm_km=ohm / 10
        )  # fmt: skip
    if wrong == "battery":
        return Battery(kind="battery", conductor=leg, at_m=at_m, volt=-48.0, ohm=ohm)
    return Leak(kind="leak", between=(leg, "sheath"), at_m=at_m, ohm=ohm)


@dataclass(frozen=True, slots=True)
class Wish:
    """What somebody wants of the unit, whatever the scheme."""

    does: Does
    argument: float
    """0 to 1 of the holds that a scheme can set."""


def wish(seed: int, plant: int, job: int) -> Wish:
    """Draw what is to be done: everything as often."""
    draw = np.random.default_rng([seed, plant, job, 2])
    return Wish(DOES[int(draw.integers(len(DOES)))], float(draw.uniform()))


@dataclass(frozen=True, slots=True)
class Begun:
    """What somebody has left on the unit before a job begins."""

    does: Function
    before_us: int
    """How long before the job it was asked for."""
    ended_us: int | None
    """How long before the job it was ended by the button; None while it lasts."""


def begun(kind: PlantClass, seed: int, plant: int, job: int) -> Begun | None:
    """Draw what a job begins in the middle of; None of an idle unit."""
    draw = np.random.default_rng([seed, plant, job, 5])
    place = float(draw.uniform(0, 100))
    if place >= kind.in_hold_percent + kind.after_hold_percent:
        return None
    ended_us = None if place < kind.in_hold_percent else int(draw.integers(100_000, 3_000_000))
    does = FUNCTIONS[int(draw.integers(len(FUNCTIONS)))]
    return Begun(does, int(draw.integers(8_000_000, 30_000_000)), ended_us)


def fractions(seed: int, plant: int, job: int, stream: int) -> Iterator[float]:
    """Yield numbers from 0 to 1 without end: one stream for slips, one for the hand's pace."""
    draw = np.random.default_rng([seed, plant, job, 3 + stream])
    while True:
        yield from map(float, draw.uniform(size=32))
