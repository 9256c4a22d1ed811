"""What takes its time, against ngspice: what soaks up charge, what comes and goes, what dries.

There the first is branches of R and C all along the ladder, the others conductances that step at
the moments of the pattern.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from line_model.equipment import Equipment
from line_model.parts import Part, Source
from line_model.plant import Plant, Section, Tap
from line_model.route import route
from line_model.section import SHORTEST_US
from line_model.spell import Spell, Topologies
from line_model.transient import Capacitors
from line_model.troubles import AtPlace, Drift, Leak, Series, Swing, Trouble
from line_model.troubles.present import changes_us, present
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.near_end import NEAR
from tests.oracles.plants import UNIT
from tests.oracles.switching import switch

pytestmark = pytest.mark.outside

SEED = 5
DAMP = Plant(
    section=(
        Section(name="a", gauge_awg=24, length_m=1800.0, absorption_percent=100.0),
        Section(name="b", gauge_awg=26, length_m=600.0, absorption_percent=30.0),
    ),
)
SOAK_S = (0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0, 60.0, 110.0)
SOAK_VOLT, SOAK_OHM = 250.0, 5e8
"""Of the order of the insulation itself, so that what is soaked up is in the reading."""
TAPPED = Plant(
    section=(Section(gauge_awg=26, length_m=1600.0),),
    tap=(Tap(name="T", gauge_awg=24, length_m=200.0, at_m=700.0),),
)
END_US = 800_000
SWING_VOLT, SWING_OHM = 10.0, 1e4


@dataclass(frozen=True)
class Swinging:
    """Troubles that come and go, and where a meter is clipped."""

    troubles: tuple[Trouble, ...]
    across: tuple[str, str] = ("tip", "ring")


SWINGS = {
    "a leak, at random": Swinging(
        (
            Leak(
                kind="leak",
                between=("tip", "ring"),
                at_m=900.0,
                ohm=2e3,
                when=Swing(period_s=0.22, share=0.4),
            ),
        )
    ),
    "a leak on a tap and a joint": Swinging(
        (
            Leak(
                kind="leak",
                between=("ring", "sheath"),
                on="T",
                at_m=150.0,
                ohm=3e4,
                emf_volt=0.6,
                when=Swing(period_s=0.26, share=0.5, regular=True),
            ),
            Series(
                kind="series",
                conductor="ring",
                at_m=500.0,
                ohm=4e4,
                when=Swing(period_s=0.2, share=0.6),
            ),
        ),
        ("ring", "sheath"),
    ),
    "a leak that dries": Swinging(
        (
            Leak(
                kind="leak",
                between=("tip", "sheath"),
                at_m=1100.0,
                ohm=2e3,
                emf_volt=0.4,
                drift=Drift(to_ohm=1e5, over_s=1.0),
            ),
        ),
        ("tip", "sheath"),
    ),
}


class Coming(Ladder):
    """A ladder whose troubles come and go: conductances that step."""

    def _trouble(self, trouble: AtPlace) -> None:
        index, at = [each is trouble for each in self.troubles].index(True), self._node
        if isinstance(trouble, Leak) and trouble.drift:
            self._drying(trouble)
            return
        assert trouble.when is not None
        here = trouble.when.there(SEED, index, 0)
        there, now_us = [(0, here)], 0
        while (now_us := trouble.when.changes_us(SEED, index, now_us)) < END_US:
            here = not here
            there.append((now_us, here))
        if isinstance(trouble, Leak):
            a, b = (at[conductor] for conductor in trouble.between)
            inside = self.node()
            self.add("v", inside, b, trouble.emf_volt or 0.0)
            switch(self, a, inside, trouble.ohm, there)
        else:
            assert isinstance(trouble, Series)
            assert trouble.ohm is not None
            beyond = self.node()
            self.add("r", at[trouble.conductor], beyond, trouble.ohm)
            away = [(us, not here) for us, here in there]
            switch(self, at[trouble.conductor], beyond, 1e-3, away)
            self._node = {**at, trouble.conductor: beyond}

    def _drying(self, leak: Leak) -> None:
        """A conductance that steps, within 50 ns each time."""
        points, siemens, now_us = [f"0 {1 / leak.ohm!r}"], 1 / leak.ohm, 0
        while (next_us := leak.moves_us(now_us)) is not None and next_us < END_US:
            after, now_us = 1 / leak.as_of(next_us).ohm, next_us
            points += [f"{now_us}u {siemens!r}", f"{now_us}.05u {after!r}"]
            siemens = after
        a, b = (self._node[conductor] for conductor in leak.between)
        inside, control = self.node(), self.node()
        self.add("v", inside, b, leak.emf_volt or 0.0)
        k = len(self.cards)
        self.cards += [
            f"v{k} {control} 0 pwl({' '.join(points)})",
            f"b{k} {a} {inside} i = v({a},{inside}) * v({control})",
        ]


def _soaking(out: str) -> tuple[str, list[str]]:
    ladder = Ladder(DAMP, (), SEED, 10, inductance=False)
    ladder.unit(UNIT, frozenset())
    ladder.source("neartip", "0", SOAK_VOLT, SOAK_OHM)
    end_s = SOAK_S[-1] + 1
    return str(ladder), [f"tran 0.05 {end_s} 0 0.05 uic", f"wrdata {out} v(neartip)"]


def _swinging(case: Swinging, out: str) -> tuple[str, list[str]]:
    ladder = Coming(TAPPED, case.troubles, SEED, 32, inductance=False)
    ladder.cards.append(".options abstol=1e-9 vntol=1e-7")
    ladder.unit(UNIT, frozenset())
    a, b = (NEAR[name] for name in case.across)
    ladder.source(a, b, SWING_VOLT, SWING_OHM)
    across = f"v({a})-v({b})".replace("-v(0)", "")
    return str(ladder), [
        f"tran 100u {END_US}u 0 100u uic",
        f"let across = {across}",
        f"wrdata {out} across",
    ]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What ngspice says of all of these; one process, a file each."""
    folder = Path(tmp_path_factory.mktemp("slow"))
    circuits = [_soaking("soak.txt")]
    circuits += [_swinging(case, f"{i}.txt") for i, case in enumerate(SWINGS.values())]
    ngspice.run(circuits, folder)
    return folder


def _wired(
    plant: Plant, troubles: tuple[Trouble, ...], meter: Source, now_us: int = 0
) -> tuple[Part, ...]:
    way = route(plant, present(troubles, SEED, now_us), SEED)
    unit = UnitOnPair(UNIT, frozenset())
    return wiring(way, unit, NearEnd(meter=(meter,)), Equipment())


def test_soaking(folder: Path) -> None:
    """For two minutes what an insulation test reads climbs as in the ladder, within 0.1 %."""
    told = np.loadtxt(folder / "soak.txt")
    theirs = np.interp(SOAK_S, told[:, 0], told[:, 1])
    parts = _wired(DAMP, (), Source("tip", "sheath", SOAK_VOLT, SOAK_OHM))
    spell = Spell.begin(parts, 0, {}, Topologies("sheath"))
    ours = [spell.volt("tip", "sheath", round(s * 1e6)) for s in SOAK_S]

    assert pytest.approx(theirs, rel=0, abs=1e-3 * SOAK_VOLT) == ours
    climbing = [volt or 0.0 for volt in ours]
    assert sorted(climbing) == climbing
    assert climbing[-1] > 1.3 * climbing[2]


def _ours(case: Swinging) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Moments that are SHORTEST_US or more after a change, and the volts at them."""
    meter = Source(*case.across, SWING_VOLT, SWING_OHM)
    solved, now_us = Topologies("sheath"), 0
    capacitors: Capacitors = {}
    at_us, volts = list[int](), list[float | None]()
    while now_us < END_US:
        spell = Spell.begin(
            _wired(TAPPED, case.troubles, meter, now_us), now_us, capacitors, solved
        )
        next_us = min(changes_us(case.troubles, SEED, now_us) or END_US, END_US)
        looks = range(now_us + SHORTEST_US, next_us, 500)
        at_us += looks
        volts += [spell.volt(*case.across, at) for at in looks]
        capacitors, now_us = {**capacitors, **spell.capacitors(next_us)}, next_us
    return np.array(at_us), np.array(volts, dtype=float)


@pytest.mark.parametrize("name", SWINGS)
def test_swinging(folder: Path, name: str) -> None:
    """At every moment 500 us or more after it came or went, within 0.1 % of full scale."""
    at_us, ours = _ours(SWINGS[name])
    told = np.loadtxt(folder / f"{list(SWINGS).index(name)}.txt")
    theirs = np.interp(at_us * 1e-6, told[:, 0], told[:, 1])

    assert pytest.approx(theirs, rel=0, abs=1e-3 * SWING_VOLT) == ours
    assert len(set(np.round(ours, 1))) > 1  # it does come and go
