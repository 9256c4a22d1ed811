"""The exact network against ngspice: every kind of trouble in every state of the unit."""

from pathlib import Path

import numpy as np
import pytest

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.route import route
from line_model.troubles import BadCoil, Battery, Bond, Leak, Reversal, Series, Wet
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.more_plants import MORE
from tests.oracles.near_end import PAIRS, assert_gain, probed
from tests.oracles.plants import CASES, UNIT, Case

pytestmark = pytest.mark.outside

STATES = ("idle", "tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair")
FEW = ("idle", "strap", "tip-ground", "off-pair")
"""The states that `MORE` is looked at in."""
EVERY = CASES | MORE
HZ = (697.0, 770.0, 852.0, 941.0, 1209.0, 1336.0, 1477.0, 1633.0)
SEED = 5
PER_RUN = 3 + 3 + 2 * len(HZ)


def _asked(case: Case, state: str) -> tuple[str, list[str]]:
    """The circuit, and the commands that print volts, ohms, input and transfer at each tone."""
    ladder = Ladder(case.plant, case.troubles, SEED)
    tip, ring = ladder.unit(UNIT, SETTLED[State(state)], case.turned, case.grounded)
    across, commands = probed(ladder)
    for hz in HZ:
        commands += [f"ac lin 1 {hz} {hz}", f"print {across[0]}", f"print v({tip})-v({ring})"]
    return str(ladder), commands


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], list[complex]]:
    """What ngspice says of every plant in every state; one process."""
    asked = {
        (name, state): _asked(case, state)
        for name, case in EVERY.items()
        for state in _states(name)
    }
    numbers = ngspice.run(asked.values(), Path(tmp_path_factory.mktemp("network")))
    assert PER_RUN * len(asked) == len(numbers)
    runs = np.reshape(np.array(numbers), (len(asked), PER_RUN)).tolist()
    return dict(zip(asked, runs, strict=True))


def _mesh(case: Case, state: str, hz: tuple[float, ...]) -> tuple[Mesh, tuple[str, str]]:
    way = route(case.plant, case.troubles, SEED)
    unit = UnitOnPair(UNIT, SETTLED[State(state)], reversed=case.turned, ground=case.grounded)
    return Mesh(hz, wiring(way, unit, NearEnd(), Equipment())), unit_pair(way, unit)


def _states(name: str) -> tuple[str, ...]:
    return FEW if name in MORE else STATES


every = pytest.mark.parametrize("name", EVERY)


def test_there_are_plants_enough() -> None:
    """Forty plants or more, and each kind of trouble that is a network's is on one of them."""
    kinds = {type(trouble) for case in EVERY.values() for trouble in case.troubles}

    assert len(EVERY) >= 40
    assert kinds >= {Leak, Series, Battery, Wet, Reversal, Bond, BadCoil}


@every
def test_direct_current(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """Driving-point resistances and open-circuit volts at 0 Hz agree within 0.1 %."""
    for state in _states(name):
        mesh, _ = _mesh(EVERY[name], state, (0.0,))
        ours = [mesh.volt(a, b) for a, b in PAIRS] + [mesh.ohm(a, b)[0] for a, b in PAIRS]

        expected = [value.real for value in told[name, state][:6]]
        assert pytest.approx(expected, rel=1e-3, abs=1e-6) == ours, state


@every
def test_input_impedance(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """What a floating source sees between tip and ring agrees within 0.5 % at every keypad tone."""
    for state in _states(name):
        mesh, _ = _mesh(EVERY[name], state, HZ)

        expected = told[name, state][6::2]
        assert pytest.approx(expected, rel=5e-3) == mesh.ohm("tip", "ring"), state


@every
def test_gain(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """From a floating 600 ohm source to the unit's tip and ring within 0.05 dB and 0.01 rad."""
    case = EVERY[name]
    for state in _states(name):
        way = route(case.plant, case.troubles, SEED)
        unit = UnitOnPair(UNIT, SETTLED[State(state)], reversed=case.turned, ground=case.grounded)
        mesh = Mesh(HZ, wiring(way, unit, NearEnd(keypad=True), Equipment()))
        ours = mesh.transfer_ohm(("tip", "ring"), unit_pair(way, unit))

        seen, across = told[name, state][6::2], told[name, state][7::2]
        assert_gain(seen, across, ours, state)
