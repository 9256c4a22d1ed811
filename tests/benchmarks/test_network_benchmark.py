"""How fast the line is solved, beside ngspice on the same circuits in the same run."""

import subprocess
from collections.abc import Sequence
from dataclasses import replace
from itertools import count
from pathlib import Path
from time import perf_counter

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.parts import Resistor, Source
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.spell import Spell, Topologies
from line_model.transient import Capacitors
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder
from tests.oracles.plants import UNIT

STATES = ("idle", "tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair")
HZ = (697.0, 770.0, 852.0, 941.0, 1209.0, 1336.0, 1477.0, 1633.0)
NEAR = ("tip", "ring", "sheath")


def _plant(temperature_c: float) -> Plant:
    """Four sections; at a new temperature nothing of it has been solved before."""
    return Plant(
        section=(
            Section(gauge_awg=26, length_m=800.0),
            Section(gauge_awg=24, length_m=1200.0),
            Section(gauge_awg=22, length_m=600.0),
            Section(gauge_awg=19, length_m=400.0),
        ),
        temperature_c=temperature_c,
    )


LUMPS_PER_KM = 10
"""What ngspice needs for 0.02 % of the ohms and of the transfer on this plant."""
SEED = 3


def _solve(plants: Sequence[Plant]) -> list[complex | None]:
    """Ohms between tip and ring, then the transfer: by state, plant, 0 Hz and the tones."""
    ways = [route(plant, (), SEED) for plant in plants]
    way, bare = ways[0], replace(ways[0], parts=())  # plants of one shape have nodes of one name
    lines = Mesh((0.0, *HZ), ()).each([each.parts for each in ways])
    units = [UnitOnPair(UNIT, SETTLED[State(state)]) for state in STATES]
    cases = [wiring(bare, unit, NearEnd(), Equipment()) for unit in units]
    pair = unit_pair(way, units[0])
    mesh = lines.seen_from((*NEAR, *way.far)).each(cases).seen_from(("tip", "ring", *pair))
    return [*mesh.ohm("tip", "ring"), *mesh.transfer_ohm(("tip", "ring"), pair)]


def _asked(state: str, plant: Plant) -> tuple[str, list[str]]:
    ladder = Ladder(plant, (), SEED, LUMPS_PER_KM)
    tip, ring = ladder.unit(UNIT, SETTLED[State(state)])
    ladder.add("i", "nearring", "neartip", 1.0)
    ladder.cards[-1] += " ac 1"
    wanted = ("v(neartip)-v(nearring)", f"v({tip})-v({ring})")
    commands = ["op", *(f"print {each}" for each in wanted)]
    for hz in HZ:
        commands += [f"ac lin 1 {hz} {hz}", *(f"print {each}" for each in wanted)]
    return str(ladder), commands


@pytest.mark.outside
@pytest.mark.parametrize("many", [1, 16])
def test_all_states_beside_ngspice(benchmark: BenchmarkFixture, tmp_path: Path, many: int) -> None:
    """Eight states at nine frequencies, one plant or many: as ngspice, and how much sooner."""
    celsius = count(20.0, 1e-6)
    plants = [_plant(next(celsius)) for _ in range(many)]
    told = ngspice.run([_asked(state, plant) for state in STATES for plant in plants], tmp_path)
    ours = benchmark.pedantic(
        _solve,
        setup=lambda: (([_plant(next(celsius)) for _ in range(many)],), {}),
        rounds=300 // many,
        warmup_rounds=0,
    )

    rows = range(0, len(told), 18)
    theirs = [told[at + 2 * f + k] for k in (0, 1) for at in rows for f in range(9)]
    assert pytest.approx(theirs, rel=2e-4) == ours
    if benchmark.stats is not None:
        start_s = perf_counter()
        subprocess.run(["ngspice", "-b", "main.cir"], cwd=tmp_path, capture_output=True, check=True)
        theirs_s, ours_s = perf_counter() - start_s, benchmark.stats.stats.median
        told_ms = (
            f"ngspice {theirs_s * 1e3 / many:.1f} ms a plant, ours {ours_s * 1e3 / many:.2f} ms"
        )
        print(f"\n{many} plants: {told_ms}: {theirs_s / ours_s:.0f} x")


def _switch(solved: Topologies) -> float | None:
    way = route(_plant(20.0), (), SEED)
    meter = (Resistor("tip", "plus", 0.2), Source("plus", "ring", 1.0, 1e5))
    volt: float | None = None
    capacitors: Capacitors = {}
    for start_us, state in ((0, "idle"), (50_000, "strap")):
        unit = UnitOnPair(UNIT, SETTLED[State(state)])
        parts = wiring(way, unit, NearEnd(meter=meter), Equipment())
        spell = Spell.begin(parts, start_us, capacitors, solved)
        capacitors = spell.capacitors(start_us + 50_000)
        volt = spell.volt("plus", "ring", start_us + 50_000)
    return volt


def _strapped_volt() -> float:
    """What the meter then stands at, from the ohms at rest."""
    way = route(_plant(20.0), (), SEED)
    parts = wiring(way, UnitOnPair(UNIT, SETTLED[State.STRAP]), NearEnd(), Equipment())
    (ohm,) = Mesh((0.0,), parts).ohm("tip", "ring")
    assert ohm is not None
    return (ohm.real + 0.2) / (ohm.real + 0.2 + 1e5)


def test_two_switches_cold(benchmark: BenchmarkFixture) -> None:
    """Two topologies in time that nobody has solved before."""
    assert pytest.approx(_strapped_volt(), rel=1e-6) == benchmark(
        lambda: _switch(Topologies("sheath"))
    )


def test_two_switches_cached(benchmark: BenchmarkFixture) -> None:
    """Two topologies in time that come back."""
    solved = Topologies("sheath")
    _switch(solved)

    assert pytest.approx(_strapped_volt(), rel=1e-6) == benchmark(_switch, solved)
