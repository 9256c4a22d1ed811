"""Switching in time against ngspice: contacts, the meter and its ranges, on charged plants."""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.unit.contacts import Contact
from line_model.equipment import Equipment
from line_model.parts import Part, Resistor, Source
from line_model.route import route
from line_model.section import SHORTEST_US
from line_model.spell import Spell, Topologies
from tests.oracles import ngspice
from tests.oracles.cable_ladder import CableLadder
from tests.oracles.ladder import Ladder
from tests.oracles.more_plants import MORE
from tests.oracles.near_end import NEAR
from tests.oracles.neighbourly_plants import NEIGHBOURLY
from tests.oracles.plants import CASES, UNIT, Case
from tests.oracles.switching import END_US, REST, STORIES, Phase, switch

SEED = 5
EVERY = CASES | MORE | NEIGHBOURLY
LUMPS_PER_KM = 32
LEAD_OHM = 0.2
SOURCE_VOLT = 10.0
READING = 1e-3 * SOURCE_VOLT
"""0.1 % of full scale [V]."""
PLUS, MINUS = "meter.plus", "meter.minus"


LIVELIEST = "strap, range change, leg to ground"
PLANTS = (
    "mixed gauge and temperature",
    "taps",
    "leak with emf",
    "open leg",
    "battery",
    "all at once",
)
FITTED = (
    "loaded D66 with a leak",
    "bonded, a leak",
    "no bond left, the sheath open",
    "leak at a tap's end",
    "wet tap",
    "soaking insulation",
    "all that is fitted, and trouble",
)
BESIDE = ("split and mended", "split to the end", "cross to a working pair")
TO_SHEATH = "leg to sheath, tone, insulation range"
ASKED = [
    *((name, title) for name in PLANTS for title in STORIES),
    *((name, TO_SHEATH) for name in (*FITTED, *BESIDE)),
    *((name, LIVELIEST) for name in BESIDE),
]
FLOATING = ("no ground lead",)
"""Open contacts leave a node on nothing there, which ngspice refuses."""
_OTHERS = [name for name in EVERY if name not in (*PLANTS, *FITTED, *BESIDE, *FLOATING)]
ONCE = [(name, list(STORIES)[i % len(STORIES)]) for i, name in enumerate(_OTHERS)]
"""All other plants, a story each: with these more than forty."""
LOADED = ("loaded D66 with a leak",)
LOADED_US = 4_000
"""So long after a switch the inductance of load coils may be left out of a reading."""
WITH_COILS = ("mixed gauge and temperature", "all at once")
MOMENTS_US = np.unique(
    np.concatenate([np.arange(500, END_US, 500), 137 + np.arange(500, END_US - 137, 1000)])
)


def _looked_at(story: tuple[Phase, ...]) -> NDArray[np.int64]:
    """The moments at which a reading may be asked for: SHORTEST_US after a switch, or later."""
    starts = np.array([phase.start_us for phase in story])
    since = MOMENTS_US[:, None] - starts
    latest = np.where(since >= 0, since, END_US).min(axis=1)
    return np.asarray(MOMENTS_US[latest >= SHORTEST_US], dtype=np.int64)


def _parts(case: Case, phase: Phase, fineness: int) -> tuple[Part, ...]:
    way = route(case.plant, case.troubles, SEED, fineness)
    unit = UnitOnPair(UNIT, phase.closed, reversed=case.turned, ground=case.grounded)
    plus, minus = phase.across
    meter = (
        Resistor(plus, PLUS, LEAD_OHM),
        Resistor(minus, MINUS, LEAD_OHM),
        Source(PLUS, MINUS, SOURCE_VOLT, phase.range_ohm),
    )
    return wiring(way, unit, NearEnd(meter=meter), Equipment())


def _ours(case: Case, story: tuple[Phase, ...], fineness: int = 1) -> NDArray[np.float64]:
    """The meter's terminals, spell after spell, from a plant without charge."""
    solved, spells = Topologies("sheath"), list[Spell]()
    for phase in story:
        capacitors = spells[-1].capacitors(phase.start_us) if spells else {}
        parts = _parts(case, phase, fineness)
        spells.append(Spell.begin(parts, phase.start_us, capacitors, solved))
    out = []
    for at_us in _looked_at(story).tolist():
        spell = max((s for s in spells if s.start_us <= at_us), key=lambda s: s.start_us)
        out.append(spell.volt(PLUS, MINUS, at_us))
    return np.array(out, dtype=float)


def _asked(
    case: Case, story: tuple[Phase, ...], inductance: bool, out: str
) -> tuple[str, list[str]]:
    """One circuit in which switches close and open; voltages at the meter go into a file."""
    lumps = LUMPS_PER_KM // (2 if inductance else 1)
    of = CableLadder.of_needed if any(each.needs for each in case.troubles) else Ladder
    ladder = of(case.plant, case.troubles, SEED, lumps, inductance)
    ladder.cards.append(".options abstol=1e-9 vntol=1e-7")
    ladder.unit(UNIT, REST, case.turned, case.grounded)
    legs = ("ring", "tip") if case.turned else ("tip", "ring")
    tip, ring = (ladder.far[leg] for leg in legs)
    sounder = ladder.node()
    ladder.series_rc(sounder, ring, UNIT.tone_ohm, UNIT.tone_farad)
    switches: Mapping[Contact, tuple[str, str, float]] = {
        Contact.STRAP: (tip, ring, UNIT.contact_ohm),
        Contact.TIP_GROUND: (tip, "groundlead", UNIT.contact_ohm),
        Contact.RING_GROUND: (ring, "groundlead", UNIT.contact_ohm),
        Contact.TONE: (tip, sounder, 1e-6),
    }
    for contact, (a, b, ohm) in switches.items():
        switch(ladder, a, b, ohm, [(p.start_us, contact in p.closed) for p in story])
    plus, minus = story[0].across
    ladder.add("r", NEAR[plus], "meterplus", LEAD_OHM)
    ladder.add("r", NEAR[minus], "meterminus", LEAD_OHM)
    ladder.add("v", "inside", "meterminus", SOURCE_VOLT)
    for range_ohm in {p.range_ohm for p in story}:
        chosen = [(p.start_us, p.range_ohm == range_ohm) for p in story]
        switch(ladder, "inside", "meterplus", range_ohm, chosen)
    step_us = 50 if inductance else 20  # the fast modes of a ladder with coils keep it short
    run = f"tran {step_us}u {END_US}u 0 {step_us}u uic"
    return str(ladder), [
        "save v(meterplus) v(meterminus)",
        run,
        f"wrdata {out} v(meterplus) v(meterminus)",
    ]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What ngspice says of every plant and story; one process, a file each."""
    folder = Path(tmp_path_factory.mktemp("transient"))
    asked = [(name, title, False) for name, title in (*ASKED, *ONCE)]
    asked += [(name, LIVELIEST, True) for name in (*WITH_COILS, *LOADED)]
    ngspice.run(
        [
            _asked(EVERY[name], STORIES[title], coils, _file(name, title, coils))
            for name, title, coils in asked
        ],
        folder,
    )
    return folder


def _file(name: str, title: str, coils: bool) -> str:
    return f"{list(EVERY).index(name)}-{list(STORIES).index(title)}-{coils:d}.txt"


def _theirs(path: Path, at_us: NDArray[np.int64]) -> NDArray[np.float64]:
    told = np.loadtxt(path)
    assert pytest.approx(END_US * 1e-6) == told[-1, 0]
    volts = told[:, 1] - told[:, 3]
    return np.asarray(np.interp(at_us * 1e-6, told[:, 0], volts), dtype=float)


def test_there_are_plants_enough() -> None:
    """Forty plants or more are switched."""
    assert len({name for name, _ in (*ASKED, *ONCE)}) >= 40


@pytest.mark.outside
@pytest.mark.parametrize(("name", "title"), [*ASKED, *ONCE])
def test_switching(folder: Path, name: str, title: str) -> None:
    """At every moment 500 us or more after a switch, within 0.1 % of full scale of ngspice."""
    story = STORIES[title]
    theirs = _theirs(folder / _file(name, title, False), _looked_at(story))

    assert pytest.approx(theirs, rel=0, abs=READING) == _ours(EVERY[name], story)


@pytest.mark.outside
@pytest.mark.parametrize("name", WITH_COILS)
def test_inductance_may_be_left_out(folder: Path, name: str) -> None:
    """Coils in the ladder move no reading 500 us or more after a switch by 0.1 % of full scale."""
    story = STORIES[LIVELIEST]
    theirs = _theirs(folder / _file(name, LIVELIEST, True), _looked_at(story))

    assert pytest.approx(theirs, rel=0, abs=READING) == _ours(EVERY[name], story)


@pytest.mark.outside
@pytest.mark.parametrize("name", LOADED)
def test_load_coils_may_be_left_out_a_little_later(folder: Path, name: str) -> None:
    """From 4 ms after a switch on, load coils move no reading by 0.5 % of full scale.

    Before that they do: in the first millisecond by up to 10 %.
    """
    story = STORIES[LIVELIEST]
    at_us = _looked_at(story)
    starts = np.array([phase.start_us for phase in story])
    late = at_us - starts[np.searchsorted(starts, at_us, side="right") - 1] >= LOADED_US
    theirs = _theirs(folder / _file(name, LIVELIEST, True), at_us)

    assert pytest.approx(theirs[late], rel=0, abs=5 * READING) == _ours(EVERY[name], story)[late]


@pytest.mark.parametrize(("name", "title"), ASKED)
def test_lumps_suffice(name: str, title: str) -> None:
    """Twice the lumps move no reading 500 us or more after a switch by 0.1 % of full scale."""
    once, twice = (_ours(EVERY[name], STORIES[title], fineness) for fineness in (1, 2))

    assert pytest.approx(twice, rel=0, abs=READING) == once
