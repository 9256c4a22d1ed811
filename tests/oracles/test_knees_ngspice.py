"""Paths with a knee against ngspice: leaks that break down, a telephone's diodes, office batteries.

There a path is a current source with the piecewise-linear law written out.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.unit.contacts import REST, Contact
from line_model.equipment import NOTHING, Equipment
from line_model.knees import at_rest
from line_model.network import Mesh
from line_model.parts import Part, Resistor, Source
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.section import SHORTEST_US
from line_model.spell import Spell, Topologies
from line_model.troubles import Battery, Conductor, Leak, Series, Trouble
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.near_end import NEAR
from tests.oracles.plants import UNIT

pytestmark = pytest.mark.outside

SEED = 5
LEAD_OHM = 0.2
PLUS, MINUS = "meter.plus", "meter.minus"
END_US = 40_000
LUMPS_PER_KM = 32
_TWO = Plant(
    section=(
        Section(name="a", gauge_awg=26, length_m=900.0),
        Section(name="b", gauge_awg=24, length_m=1100.0, unbalance_percent=3.0),
    ),
)


def _breaks(
    a: Conductor, b: Conductor, at_m: float, ohm: float, knee: float, emf: float = 0.0
) -> Leak:
    return Leak(kind="leak", between=(a, b), at_m=at_m, ohm=ohm, breakdown_volt=knee, emf_volt=emf)


@dataclass(frozen=True)
class Case:
    """Knees on the plant, what is beyond the unit, and where a meter is clipped."""

    leaks: tuple[Leak, ...] = ()
    others: tuple[Trouble, ...] = ()
    beyond: Equipment = NOTHING
    across: tuple[str, str] = ("tip", "ring")
    surge_volt: float | None = None


_OFF_HOOK = Equipment(equipment="telephone", hook="off")
CASES = {
    "tip to ring": Case((_breaks("tip", "ring", 1325.0, 3e3, 40.0),)),
    "ring to sheath with emf": Case(
        (_breaks("ring", "sheath", 600.0, 5e3, 20.0, 0.8),), across=("ring", "sheath")
    ),
    "two knees": Case(
        (
            _breaks("tip", "sheath", 300.0, 2e4, 60.0),
            _breaks("ring", "tip", 1500.0, 900.0, 15.0, -0.5),
        ),
        (Series(kind="series", conductor="ring", at_m=900.0, ohm=150.0),),
    ),
    "off hook": Case(beyond=_OFF_HOOK),
    "off hook, foreign battery": Case(
        others=(Battery(kind="battery", conductor="tip", at_m=500.0, volt=-50.0, ohm=5e3),),
        beyond=_OFF_HOOK,
    ),
    "office and a leak that it breaks down": Case(
        (_breaks("ring", "sheath", 1000.0, 1e4, 30.0),), beyond=Equipment(equipment="office")
    ),
    "surge protection across the pair": Case(surge_volt=90.0),
    "surge protection to ground, foreign battery": Case(
        others=(Battery(kind="battery", conductor="ring", at_m=500.0, volt=60.0, ohm=5e4),),
        across=("ring", "sheath"),
        surge_volt=200.0,
    ),
}
METERS = ((1.0, 1e3), (2.9, 1e3), (9.0, 1e3), (-9.0, 1e3), (100.0, 1e5), (-250.0, 1e6))
"""Source [V] and its resistance [ohm], one after another."""
STORY = tuple((i * END_US // len(METERS), *meter) for i, meter in enumerate(METERS))
"""When each comes on [us]."""
MOMENTS_US = np.unique(np.arange(500, END_US, 250))


def _looked_at() -> NDArray[np.int64]:
    since = MOMENTS_US[:, None] - np.array([start_us for start_us, _, _ in STORY])
    latest = np.where(since >= 0, since, END_US).min(axis=1)
    return np.asarray(MOMENTS_US[latest >= SHORTEST_US], dtype=np.int64)


# -- theirs ----------------------------------------------------------------------------------------


def _knee(ladder: Ladder, a: str, b: str, ohm: float, knee: float, emf: float) -> None:
    """(v - knee) / ohm above the knee, (v + knee) / ohm below its negative, else nothing."""
    v = f"(v({a})-v({b})-({emf!r}))".replace("v(0)", "0")
    law = f"(max({v}-{knee!r},0)+min({v}+{knee!r},0))/{ohm!r}"
    ladder.cards.append(f"b{len(ladder.cards)} {a} {b} i={law}")


class Kneed(Ladder):
    """A ladder whose leaks have knees."""

    def _trouble(self, trouble: Trouble) -> None:
        if isinstance(trouble, Leak) and trouble.breakdown_volt is not None:
            a, b = (self._node[conductor] for conductor in trouble.between)
            _knee(self, a, b, trouble.ohm, trouble.breakdown_volt, trouble.emf_volt or 0.0)
        else:
            super()._trouble(trouble)


def _ladder(case: Case, troubles: tuple[Trouble, ...]) -> Ladder:
    ladder = Kneed(_TWO, troubles, SEED, LUMPS_PER_KM, inductance=False)
    tip, ring = ladder.unit(UNIT, REST)
    if case.surge_volt is not None:
        for a, b in ((tip, ring), (tip, "groundlead"), (ring, "groundlead")):
            _knee(ladder, a, b, UNIT.surge_ohm, case.surge_volt, 0.0)
    if case.beyond.equipment != "none":
        ladder.add("r", tip, "outtip", UNIT.series_contact_ohm)
        ladder.add("r", ring, "outring", UNIT.series_contact_ohm)
    if case.beyond.equipment == "telephone":
        ladder.add("r", "outtip", "outring", 10e6)
        _knee(ladder, "outtip", "outring", 180.0, 3.0, 0.0)
    elif case.beyond.equipment == "office":
        ladder.source("outtip", ladder.far["sheath"], 0.0, 200.0)
        ladder.source("outring", ladder.far["sheath"], -48.0, 200.0)
        ladder.series_rc("outtip", "outring", 900.0, 2.16e-6)
    plus, minus = case.across
    ladder.add("r", NEAR[plus], "meterplus", LEAD_OHM)
    ladder.add("r", NEAR[minus], "meterminus", LEAD_OHM)
    return ladder


def _direct(case: Case) -> Iterable[tuple[str, list[str]]]:
    for volt, ohm in METERS:
        ladder = _ladder(case, (*case.leaks, *case.others))
        ladder.source("meterplus", "meterminus", volt, ohm)
        yield str(ladder), ["op", "print v(meterplus)-v(meterminus)"]


def _in_time(case: Case, out: str) -> tuple[str, list[str]]:
    """Each meter's source and conductance step in within 50 ns; before them all is at rest."""
    ladder = _ladder(case, (*case.leaks, *case.others))
    ladder.cards.append(".options abstol=1e-10 vntol=1e-7")
    for control, values in (
        ("siemens", [1 / ohm for _, _, ohm in STORY]),
        ("amp", [volt / ohm for _, volt, ohm in STORY]),
    ):
        points, was = [f"0 {values[0]!r}"], values[0]
        for (start_us, _, _), value in zip(STORY[1:], values[1:], strict=True):
            points += [f"{start_us}u {was!r}", f"{start_us}.05u {value!r}"]
            was = value
        ladder.cards.append(f"v{control} {control} 0 pwl({' '.join(points)})")
    law = "v(meterplus,meterminus)*v(siemens)-v(amp)"
    ladder.cards.append(f"bmeter meterplus meterminus i={law}")
    return str(ladder), [
        "save v(meterplus) v(meterminus)",
        f"tran 20u {END_US}u 0 20u",
        f"wrdata {out} v(meterplus) v(meterminus)",
    ]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, list[float]], Path]:
    """What ngspice says at rest of each case and meter, and the folder of its waveforms."""
    folder = Path(tmp_path_factory.mktemp("knees"))
    circuits = [circuit for case in CASES.values() for circuit in _direct(case)]
    circuits += [_in_time(case, f"{i}.txt") for i, case in enumerate(CASES.values())]
    numbers = [value.real for value in ngspice.run(circuits, folder)]
    each = len(METERS)
    return {name: numbers[i * each : (i + 1) * each] for i, name in enumerate(CASES)}, folder


# -- ours ------------------------------------------------------------------------------------------


def _parts(case: Case, volt: float, ohm: float) -> tuple[Part, ...]:
    way = route(_TWO, (*case.leaks, *case.others), SEED)
    plus, minus = case.across
    meter = (
        Resistor(plus, PLUS, LEAD_OHM),
        Resistor(minus, MINUS, LEAD_OHM),
        Source(PLUS, MINUS, volt, ohm),
    )
    assert frozenset({Contact.SERIES}) == REST
    unit = UnitOnPair(replace(UNIT, surge_volt=case.surge_volt), REST)
    return wiring(way, unit, NearEnd(meter=meter), case.beyond)


def _ours(case: Case) -> NDArray[np.float64]:
    """The meter's terminals, spell after spell, knees reached in mid-spell included."""
    solved, spells = Topologies("sheath"), list[Spell]()
    for i, (start_us, volt, ohm) in enumerate(STORY):
        parts = _parts(case, volt, ohm)
        if i == 0:
            capacitors = dict(solved.modes(at_rest(parts)).rest())
        else:
            capacitors = dict(spells[-1].capacitors(start_us))
        spells.append(Spell.begin(parts, start_us, capacitors, solved))
        until_us = STORY[i + 1][0] if i + 1 < len(STORY) else END_US
        while (knee_us := spells[-1].deadline_us) is not None and knee_us < until_us:
            capacitors = dict(spells[-1].capacitors(knee_us))
            spells.append(Spell.begin(parts, knee_us, capacitors, solved, spells[-1]))
    out = []
    for at_us in _looked_at().tolist():
        spell = max((s for s in spells if s.start_us <= at_us), key=lambda s: s.start_us)
        out.append(spell.volt(PLUS, MINUS, at_us))
    return np.array(out, dtype=float)


every = pytest.mark.parametrize("name", CASES)


@every
def test_at_rest(told: tuple[dict[str, list[float]], Path], name: str) -> None:
    """Each meter's settled voltage, both ways round, within 0.1 % of full scale and of itself."""
    ours = []
    for volt, ohm in METERS:
        mesh = Mesh((0.0,), at_rest(_parts(CASES[name], volt, ohm)))
        ours.append(mesh.volt(PLUS, MINUS))
    assert pytest.approx(told[0][name], rel=1e-3, abs=1e-4) == ours


@every
def test_in_time(told: tuple[dict[str, list[float]], Path], name: str) -> None:
    """At every moment 500 us or more after a switch, within 0.1 % of that meter's source."""
    file = np.loadtxt(told[1] / f"{list(CASES).index(name)}.txt")
    at_us = _looked_at()
    theirs = np.interp(at_us * 1e-6, file[:, 0], file[:, 1] - file[:, 3])
    starts = np.array([start_us for start_us, _, _ in STORY])
    source = np.array([abs(volt) for _, volt, _ in STORY])
    full_scale = source[np.searchsorted(starts, at_us, side="right") - 1]
    off = np.abs(_ours(CASES[name]) - theirs) / full_scale
    assert off.max() < 1e-3, (off.max(), int(at_us[off.argmax()]))
