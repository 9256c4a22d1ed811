"""Virtual time against real time: a whole scenario played, keys, samples, meter and all."""

from time import perf_counter

from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.files import load_situation
from farend_sim.shipped import first_scenario


def test_virtual_seconds_a_second(benchmark: BenchmarkFixture) -> None:
    """The first scenario, from a bench that has solved nothing yet; its peer is the wall clock."""
    situation = load_situation(first_scenario())
    text = situation.path.with_suffix(".steps").read_text("utf-8")
    steps = parse(text, "steps", tuple(situation.meters))
    start_s = perf_counter()
    rows = benchmark(lambda: list(play(situation, steps)))
    took_s = perf_counter() - start_s
    if benchmark.stats is not None:
        took_s = benchmark.stats.stats.median
    ratio = rows[-1]["t_s"] / took_s
    print(
        f"\n{rows[-1]['t_s']:.0f} virtual seconds in {took_s * 1e3:.0f} ms: {ratio:.0f} x real time"
    )
    assert len(steps) == len(rows)
