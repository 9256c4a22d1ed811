"""Offices, telephones and quiet terminations at either end against ngspice, at 0 Hz and in AC.

The netlists are written from what the equipment is said to be: an office is its feed at 0 Hz and
900 ohm with 2.16 uF at any other frequency, earthed at the sheath of its end.
"""

from dataclasses import dataclass
from pathlib import Path

import pytest

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.route import route
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.near_end import PAIRS, assert_gain, probed
from tests.oracles.plants import CASES, UNIT, Case

pytestmark = pytest.mark.outside

SEED = 5
HZ = (20.0, 350.0, 440.0, 697.0, 1004.0, 1633.0, 3000.0)
PLANTS = ("mixed gauge and temperature", "taps", "leak with emf", "battery", "unit turned about")


@dataclass(frozen=True)
class Ends:
    """What is joined beyond the unit and behind the near end."""

    beyond: str = "none"
    behind: str = "none"


ENDS = {
    "office beyond": Ends("office"),
    "telephone beyond": Ends("telephone"),
    "quiet beyond": Ends("quiet"),
    "office behind": Ends("none", "office"),
    "telephone behind, office beyond": Ends("office", "telephone"),
}
STATES = ("idle", "strap", "ring-ground")
ASKED = [(name, ends, state) for name in PLANTS for ends in ENDS for state in STATES]


def _join(ladder: Ladder, what: str, tip: str, ring: str, sheath: str, alternating: bool) -> None:
    """Equipment between two legs, as its description has it."""
    if what == "office":
        if not alternating:
            ladder.source(tip, sheath, 0.0, 200.0)
            ladder.source(ring, sheath, -48.0, 200.0)
        ladder.series_rc(tip, ring, 900.0, 2.16e-6)
    elif what == "telephone":
        ladder.add("r", tip, ring, 10e6)
        ladder.series_rc(tip, ring, 7000.0, 0.5e-6)
    elif what == "quiet":
        ladder.series_rc(tip, ring, 900.0, 2.0e-6)


def _ladder(case: Case, ends: Ends, state: str, alternating: bool) -> tuple[Ladder, str, str]:
    closed = SETTLED[State(state)]
    ladder = Ladder(case.plant, case.troubles, SEED)
    tip, ring = ladder.unit(UNIT, closed, case.turned, case.grounded)
    if Contact.SERIES in closed and ends.beyond != "none":
        ladder.add("r", tip, "outtip", 0.1)
        ladder.add("r", ring, "outring", 0.1)
        _join(ladder, ends.beyond, "outtip", "outring", ladder.far["sheath"], alternating)
    _join(ladder, ends.behind, "neartip", "nearring", "0", alternating)
    return ladder, tip, ring


def _asked(case: Case, ends: Ends, state: str) -> list[tuple[str, list[str]]]:
    """Two circuits: one for volts and ohms at 0 Hz, one for what is seen and comes at each tone."""
    direct, _, _ = _ladder(case, ends, state, False)
    _, at_rest = probed(direct)
    tones, tip, ring = _ladder(case, ends, state, True)
    across, _ = probed(tones)
    commands = []
    for hz in HZ:
        commands += [f"ac lin 1 {hz} {hz}", f"print {across[0]}", f"print v({tip})-v({ring})"]
    return [(str(direct), at_rest), (str(tones), commands)]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str, str], list[complex]]:
    """What ngspice says of every plant, ends and state; one process."""
    circuits = [
        circuit for name, ends, state in ASKED for circuit in _asked(CASES[name], ENDS[ends], state)
    ]
    numbers = ngspice.run(circuits, Path(tmp_path_factory.mktemp("equipment")))
    each = 2 * len(PAIRS) + 2 * len(HZ)
    assert each * len(ASKED) == len(numbers)
    return {key: numbers[i * each : (i + 1) * each] for i, key in enumerate(ASKED)}


def _mesh(case: Case, ends: Ends, state: str, hz: tuple[float, ...], keypad: bool = False) -> Mesh:
    way = route(case.plant, case.troubles, SEED)
    unit = UnitOnPair(UNIT, SETTLED[State(state)], reversed=case.turned, ground=case.grounded)
    near = NearEnd(keypad=keypad, behind=Equipment(equipment=ends.behind))
    return Mesh(hz, wiring(way, unit, near, Equipment(equipment=ends.beyond)))


every = pytest.mark.parametrize(("name", "ends", "state"), ASKED)


@every
def test_direct_current(
    told: dict[tuple[str, str, str], list[complex]], name: str, ends: str, state: str
) -> None:
    """Volts and driving-point ohms at the bare near end agree within 0.1 %."""
    mesh = _mesh(CASES[name], ENDS[ends], state, (0.0,))
    ours = [mesh.volt(a, b) for a, b in PAIRS] + [mesh.ohm(a, b)[0] for a, b in PAIRS]

    expected = [value.real for value in told[name, ends, state][:6]]
    assert pytest.approx(expected, rel=1e-3, abs=1e-6) == ours


@every
def test_alternating_current(
    told: dict[tuple[str, str, str], list[complex]], name: str, ends: str, state: str
) -> None:
    """What a floating source sees agrees within 0.5 %, what comes to the unit within 0.05 dB."""
    case, numbers = CASES[name], told[name, ends, state][6:]
    seen, across = numbers[::2], numbers[1::2]
    assert pytest.approx(seen, rel=5e-3) == _mesh(case, ENDS[ends], state, HZ).ohm("tip", "ring")

    way = route(case.plant, case.troubles, SEED)
    at_unit = unit_pair(way, UnitOnPair(UNIT, reversed=case.turned))
    sent = _mesh(case, ENDS[ends], state, HZ, keypad=True)
    ours = sent.transfer_ohm(("tip", "ring"), at_unit)
    assert_gain(seen, across, ours)
