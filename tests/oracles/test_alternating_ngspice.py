"""What alternates by itself, against ngspice: earth that differs from place to place, and ringing.

At the near end, bare, between each two terminals, as phasors.
"""

from collections.abc import Iterable
from pathlib import Path

import pytest

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import NOTHING, RING_HZ, Equipment
from line_model.route import route
from line_model.spell import Spell, Topologies
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.more_plants import MORE
from tests.oracles.near_end import NEAR
from tests.oracles.plants import CASES, UNIT, Case

pytestmark = pytest.mark.outside

SEED = 5
PAIRS = (("tip", "sheath"), ("ring", "sheath"), ("tip", "ring"))
EARTHED = (
    "bonded",
    "bonded, a leak",
    "a bond missing",
    "a bond of many ohms",
    "bonded, the sheath open",
    "no bond left, the sheath open",
)
EARTHED_STATES = ("idle", "strap", "tip-ground", "both-ground")
RUNG = ("mixed gauge and temperature", "leak with emf", "open leg", "unit turned about")
RINGING = Equipment(equipment="office", ringing=True)
ENDS = {"beyond": (NOTHING, RINGING), "behind": (RINGING, NOTHING)}
"""What is behind the near end, and beyond the unit."""
EVERY = CASES | MORE
EARTH_ASKED = [(name, state, 60.0, "") for name in EARTHED for state in EARTHED_STATES]
RING_ASKED = [(name, "idle", RING_HZ.value, end) for name in RUNG for end in ENDS]
ASKED = EARTH_ASKED + RING_ASKED


def _circuit(name: str, state: str, hz: float, end: str) -> tuple[str, list[str]]:
    case = EVERY[name]
    ladder = Ladder(case.plant, case.troubles, SEED, hum=0.0 if end else 1.0)
    closed = SETTLED[State(state)]
    tip, ring = ladder.unit(UNIT, closed, case.turned, case.grounded)
    if end == "behind":
        _ring(ladder, "neartip", "nearring", "0")
    elif end == "beyond":
        assert Contact.SERIES in closed
        ladder.add("r", tip, "outtip", UNIT.series_contact_ohm)
        ladder.add("r", ring, "outring", UNIT.series_contact_ohm)
        _ring(ladder, "outtip", "outring", ladder.far["sheath"])
    commands = [f"ac lin 1 {hz} {hz}"]
    commands += [f"print v({NEAR[a]})-v({NEAR[b]})".replace("-v(0)", "") for a, b in PAIRS]
    return str(ladder), commands


def _ring(ladder: Ladder, tip: str, ring: str, sheath: str) -> None:
    """Tip to the sheath and ring to 90 V, each behind 200 ohm; nothing across them."""
    ladder.add("r", tip, sheath, 200.0)
    ladder.add("v", "generator", sheath, -48.0)
    ladder.cards[-1] += " ac 90"
    ladder.add("r", ring, "generator", 200.0)


@pytest.fixture(scope="module")
def told(
    tmp_path_factory: pytest.TempPathFactory,
) -> dict[tuple[str, str, float, str], list[complex]]:
    """What ngspice says of every plant and state; one process."""
    numbers = ngspice.run(
        [_circuit(*asked) for asked in ASKED], Path(tmp_path_factory.mktemp("alternating"))
    )
    each = len(PAIRS)
    assert each * len(ASKED) == len(numbers)
    return {asked: numbers[i * each : (i + 1) * each] for i, asked in enumerate(ASKED)}


def _ours(case: Case, state: str, hz: float, end: str) -> Iterable[complex]:
    way = route(case.plant, case.troubles, SEED)
    unit = UnitOnPair(UNIT, SETTLED[State(state)], reversed=case.turned, ground=case.grounded)
    behind, beyond = ENDS.get(end, (NOTHING, NOTHING))
    parts = wiring(way, unit, NearEnd(behind=behind.at(0)), beyond.at(0))
    spell = Spell.begin(parts, 0, {}, Topologies("sheath"))
    return [spell.hum_volt(pair).get(hz, 0j) for pair in PAIRS]


@pytest.mark.parametrize(("name", "state", "hz", "end"), ASKED)
def test_between_the_near_terminals(
    told: dict[tuple[str, str, float, str], list[complex]],
    name: str,
    state: str,
    hz: float,
    end: str,
) -> None:
    """Within 0.5 % and with its phase; where the legs cancel, a millionth of the source."""
    source_volt = 90.0 if end else 8.0
    theirs = told[name, state, hz, end]

    assert pytest.approx(theirs, rel=5e-3, abs=1e-6 * source_volt) == _ours(
        EVERY[name], state, hz, end
    )
