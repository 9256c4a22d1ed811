"""Induced voltage against ngspice: in its ladder, a source in each leg of each lump.

At the near end, bare: both ends open, one far leg grounded, both grounded, and in a strap.
"""

from dataclasses import dataclass, field
from math import ceil
from pathlib import Path

import pytest

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.plant import Plant, Stretch
from line_model.route import route
from line_model.spell import Spell, Topologies
from line_model.troubles import Harmonic, Induction, Wet
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder, Nodes
from tests.oracles.near_end import NEAR
from tests.oracles.plants import CASES, UNIT, Case

pytestmark = pytest.mark.outside

SEED = 5
STATES = ("open", "off-pair", "tip-ground", "ring-ground", "both-ground", "strap")
PLANTS = (
    "mixed gauge and temperature",
    "taps",
    "uneven legs",
    "series",
    "open leg",
    "open sheath",
    "wet",
    "reversal before a leak",
    "unit turned about",
    "no ground lead",
)
PAIRS = (("tip", "sheath"), ("ring", "sheath"), ("tip", "ring"))
INDUCTION = Induction(
    kind="induction",
    rms_volt=12.0,
    hz=60.0,
    harmonics=(
        Harmonic(order=3, percent=20.0),
        Harmonic(order=5, percent=10.0),
        Harmonic(order=9, percent=4.0),
        Harmonic(order=30, percent=1.0),
    ),
)
VOLT = {60.0: 12.0, 180.0: 2.4, 300.0: 1.2, 540.0: 0.48, 1800.0: 0.12}
"""By arithmetic from the above."""


@dataclass
class Humming(Ladder):
    """A ladder with its share of one volt in each leg of each lump, plus towards the far end."""

    total_m: float = 0.0
    _share: float = field(default=0.0, init=False)

    def _lay(self, stretch: Stretch, label: str, length_m: float, wet: list[Wet]) -> Nodes:
        count = max(2, ceil(length_m / 1000 * self.lumps_per_km))
        along = label.startswith("section")  # a tap lies along no power line
        self._share = length_m / count / self.total_m if along else 0.0
        return super()._lay(stretch, label, length_m, wet)

    def add(self, kind: str, a: str, b: str, value: float) -> str:
        if kind == "l" and self._share:  # coils stand in the legs alone
            inside = self.node()
            self.cards.append(f"v{len(self.cards)} {inside} {a} dc 0 ac {self._share!r}")
            a = inside
        return super().add(kind, a, b, value)


def _length_m(plant: Plant) -> float:
    return sum(section.length_m for section in plant.section)


def _asked(case: Case, state: str) -> tuple[str, list[str]]:
    ladder = Humming(case.plant, case.troubles, SEED, total_m=_length_m(case.plant))
    ladder.unit(UNIT, SETTLED[State(state)], case.turned, case.grounded)
    commands = []
    for hz in VOLT:
        commands.append(f"ac lin 1 {hz} {hz}")
        for a, b in PAIRS:
            commands.append(f"print v({NEAR[a]})-v({NEAR[b]})".replace("-v(0)", ""))
    return str(ladder), commands


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], list[complex]]:
    """What ngspice says of a volt on every plant in every state; one process."""
    keys = [(name, state) for name in PLANTS for state in STATES]
    numbers = ngspice.run(
        [_asked(CASES[name], state) for name, state in keys],
        Path(tmp_path_factory.mktemp("induction")),
    )
    each = len(VOLT) * len(PAIRS)
    assert each * len(keys) == len(numbers)
    return {key: numbers[i * each : (i + 1) * each] for i, key in enumerate(keys)}


def _spell(case: Case, state: str) -> Spell:
    way = route(case.plant, (*case.troubles, INDUCTION), SEED)
    unit = UnitOnPair(UNIT, SETTLED[State(state)], reversed=case.turned, ground=case.grounded)
    parts = wiring(way, unit, NearEnd(), Equipment())
    return Spell.begin(parts, 0, {}, Topologies("sheath"))


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("name", PLANTS)
def test_induced_voltage(told: dict[tuple[str, str], list[complex]], name: str, state: str) -> None:
    """Between each two near terminals, at each harmonic, within 0.5 % and with its phase.

    Where the legs cancel to less than a hundred-thousandth, that much of the whole is allowed.
    """
    spell = _spell(CASES[name], state)
    ours = [
        spell.hum_volt(pair)[hz] for hz in VOLT for pair in PAIRS
    ]  # in the order that ngspice was asked

    volts = [volt for volt in VOLT.values() for _ in PAIRS]
    for one, volt, our in zip(told[name, state], volts, ours, strict=True):
        assert pytest.approx(one * volt, rel=5e-3, abs=1e-5 * volt) == our
