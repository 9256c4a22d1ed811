"""Splits, crosses and coupled neighbours against ngspice, at 0 Hz and in AC."""

from dataclasses import dataclass
from math import log10
from pathlib import Path
from typing import Literal

import numpy as np
import pytest

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.plant import Neighbour, Plant, Section
from line_model.route import route
from line_model.troubles import Leak, Reversal, Series, Split, Trouble
from tests.oracles import ngspice
from tests.oracles.cable_ladder import CableLadder
from tests.oracles.near_end import PAIRS, assert_gain, probed
from tests.oracles.plants import UNIT

pytestmark = pytest.mark.outside

SEED = 11
HZ = (580.0, 1004.0, 1633.0, 3000.0)
STATES = ("idle", "strap", "tip-ground")

PLANT = Plant(
    section=(
        Section(name="a", gauge_awg=26, length_m=800.0, temperature_c=30.0),
        Section(name="b", gauge_awg=24, length_m=1100.0),
    ),
    neighbour=(
        Neighbour(name="still"),
        Neighbour(name="shop", state="working"),
        Neighbour(name="cut", state="open", open_leg="ring", open_at_m=500.0),
    ),
)


@dataclass(frozen=True)
class Case:
    """What is wrong, who is looked at besides those that it needs, and all of them in order."""

    troubles: tuple[Trouble, ...]
    asked: tuple[str, ...] = ()
    all: tuple[str, ...] = ("still",)


def split(
    conductor: Literal["tip", "ring"], from_m: float, to_m: float | None, neighbour: str = "still"
) -> Split:
    return Split(kind="split", conductor=conductor, from_m=from_m, to_m=to_m, neighbour=neighbour)


def leak(a: str, b: str, at_m: float, ohm: float, emf_volt: float = 0.0) -> Leak:
    return Leak(kind="leak", between=(a, b), at_m=at_m, ohm=ohm, emf_volt=emf_volt)


CASES = {
    "split and mended": Case((split("ring", 300.0, 1300.0),)),
    "split to the end": Case((split("tip", 700.0, None),)),
    "split with a working pair": Case((split("ring", 200.0, 900.0, "shop"),), (), ("shop",)),
    "split twice": Case(
        (split("ring", 100.0, 400.0), split("tip", 900.0, 1500.0, "shop")), (), ("still", "shop")
    ),
    "split about a reversal": Case(
        (split("ring", 400.0, 1200.0), Reversal(kind="reversal", at_m=700.0))
    ),
    "a leak on the other pair's leg": Case(
        (split("ring", 300.0, 1300.0), leak("ring", "sheath", 900.0, 5e3, 0.6))
    ),
    "cross to a quiet pair": Case((leak("tip", "still.ring", 1000.0, 2e4),)),
    "cross to a working pair": Case((leak("ring", "shop.ring", 600.0, 8e3),), (), ("shop",)),
    "cross and an open leg": Case(
        (
            leak("tip", "shop.tip", 600.0, 3e3),
            Series(kind="series", conductor="ring", at_m=1200.0),
        ),
        (),
        ("shop",),
    ),
    "beside a quiet pair": Case((), ("still",), ("still",)),
    "beside a cut pair": Case((), ("cut",), ("cut",)),
    "beside three": Case((), ("cut", "still", "shop"), ("cut", "still", "shop")),
}
PER_RUN = 6 + 3 * len(HZ)


def _asked(case: Case, state: str) -> list[tuple[str, list[str]]]:
    """Two circuits, for 0 Hz and for AC, with the commands that print all that is compared."""
    out = []
    states = {one.name: one.state for one in PLANT.neighbour}
    for alternating in (False, True):
        ladder = CableLadder(PLANT, case.troubles, SEED, neighbours=case.all)
        tip, ring = ladder.unit(UNIT, SETTLED[State(state)])
        for name in case.all:
            ladder.ends(name, states[name], alternating)
        near = ladder.near
        across, commands = probed(ladder, near)
        there = [near[f"{case.all[0]}.{leg}"] for leg in ("tip", "ring")]
        if alternating:
            seen = (across[0], f"v({tip})-v({ring})", f"v({there[0]})-v({there[1]})")
            commands = []
            for hz in HZ:
                commands += [f"ac lin 1 {hz} {hz}", *(f"print {each}" for each in seen)]
        out.append((str(ladder), commands))
    return out


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], list[complex]]:
    """What ngspice says of every plant in every state; one process."""
    asked = {(name, state): _asked(case, state) for name, case in CASES.items() for state in STATES}
    circuits = [circuit for each in asked.values() for circuit in each]
    numbers = ngspice.run(circuits, Path(tmp_path_factory.mktemp("neighbours")))
    assert PER_RUN * len(asked) == len(numbers)
    runs = np.reshape(np.array(numbers), (len(asked), PER_RUN)).tolist()
    return dict(zip(asked, runs, strict=True))


def _mesh(
    case: Case, state: str, hz: tuple[float, ...], keypad: bool = False
) -> tuple[Mesh, tuple[str, str]]:
    way = route(PLANT, case.troubles, SEED, asked=case.asked)
    unit = UnitOnPair(UNIT, SETTLED[State(state)])
    return Mesh(hz, wiring(way, unit, NearEnd(keypad=keypad), Equipment())), unit_pair(way, unit)


every = pytest.mark.parametrize("name", CASES)


@every
def test_direct_current(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """Driving-point resistances and open-circuit volts at 0 Hz agree within 0.1 %."""
    for state in STATES:
        mesh, _ = _mesh(CASES[name], state, (0.0,))
        ours = [mesh.volt(a, b) for a, b in PAIRS] + [mesh.ohm(a, b)[0] for a, b in PAIRS]

        expected = [value.real for value in told[name, state][:6]]
        assert pytest.approx(expected, rel=1e-3, abs=1e-6) == ours, state


@every
def test_input_impedance(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """What a floating source sees between tip and ring agrees within 0.5 %."""
    for state in STATES:
        mesh, _ = _mesh(CASES[name], state, HZ)

        assert pytest.approx(told[name, state][6::3], rel=5e-3) == mesh.ohm("tip", "ring"), state


@every
def test_gain_to_the_unit(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """From a floating 600 ohm source to the unit's tip and ring within 0.05 dB and 0.01 rad."""
    for state in STATES:
        mesh, pair = _mesh(CASES[name], state, HZ, keypad=True)
        ours = mesh.transfer_ohm(("tip", "ring"), pair)

        seen, across = told[name, state][6::3], told[name, state][7::3]
        assert_gain(seen, across, ours, state)


@every
def test_crosstalk(told: dict[tuple[str, str], list[complex]], name: str) -> None:
    """What an ampere into the pair puts across a neighbour's near end agrees within 0.1 dB."""
    case = CASES[name]
    there = f"{case.all[0]}.tip", f"{case.all[0]}.ring"
    for state in STATES:
        mesh, _ = _mesh(case, state, HZ)
        ours = mesh.transfer_ohm(("tip", "ring"), there)

        for volt, our in zip(told[name, state][8::3], ours, strict=True):
            assert our is not None
            assert abs(20 * log10(abs(our / volt))) < 0.1, state
