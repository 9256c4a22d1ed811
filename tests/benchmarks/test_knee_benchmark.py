"""What paths with a knee cost a spell: a protected unit beside the same one without, in one run."""

from dataclasses import replace
from time import perf_counter

from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from line_model.equipment import Equipment
from line_model.parts import Part, Source
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.spell import Spell, Topologies
from tests.oracles.plants import UNIT

PLANT = Plant(section=(Section(gauge_awg=26, length_m=7000.0),))


def _wired(surge_volt: float | None) -> tuple[Part, ...]:
    unit = UnitOnPair(replace(UNIT, surge_volt=surge_volt))
    near = NearEnd(meter=(Source("tip", "sheath", 90.0, 1e5),))
    return wiring(route(PLANT, (), 0), unit, near, Equipment())


def test_protection_out_of_reach(benchmark: BenchmarkFixture) -> None:
    """A spell on 7 km that never reaches a knee; its peer has none. Both find it in the cache."""
    solved, bare, kneed = Topologies("sheath"), _wired(None), _wired(200.0)
    Spell.begin(bare, 0, {}, solved)
    Spell.begin(kneed, 0, {}, solved)
    start_s = perf_counter()
    for _ in range(20):
        Spell.begin(bare, 0, {}, solved)
    peer_s = (perf_counter() - start_s) / 20
    spell = benchmark(lambda: Spell.begin(kneed, 0, {}, solved))
    if benchmark.stats is not None:
        took_s = benchmark.stats.stats.median
        print(f"\n{took_s * 1e3:.2f} ms a spell, {took_s / peer_s:.1f} times one without knees")
    assert None is spell.deadline_us
