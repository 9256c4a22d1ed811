"""What a look at every post costs: one neighbour at a time, and all pairs of a cable at once."""

from time import perf_counter

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from line_model import section
from line_model.network import Mesh
from line_model.parts import Part, SeriesRC
from line_model.plant import Plant, Section
from line_model.route import route

PLANT = Plant(
    section=(
        Section(gauge_awg=24, length_m=1500.0),
        Section(gauge_awg=26, length_m=900.0),
    )
)
TONE_HZ = (580.0, 1060.0)
NAMES = tuple(str(i) for i in range(1, 49))


def _look(names: tuple[str, ...]) -> list[complex | None]:
    """The tone between the legs of some neighbours that are in one circuit."""
    section.forget()
    route.cache_clear()
    way = route(PLANT, (), 1, asked=names)
    tone = SeriesRC(way.far[0], way.far[1], 600.0, 1e-6, "tone")
    ends: list[Part] = [part for one in way.neighbours for part in one.parts()]
    mesh = Mesh(TONE_HZ, (*way.parts, tone, *ends))
    out: list[complex | None] = []
    for one in way.neighbours:
        out += mesh.transfer_ohm((way.far[0], way.far[1]), one.near.pair)
    return out


def _pair_by_pair(count: int) -> list[complex | None]:
    return [value for name in NAMES[:count] for value in _look((name,))]


def _seconds(count: int) -> float:
    tries = []
    for _ in range(3):
        start_s = perf_counter()
        _pair_by_pair(count)
        tries.append(perf_counter() - start_s)
    return min(tries)


def test_pair_by_pair_is_linear(benchmark: BenchmarkFixture) -> None:
    """Twice the posts, twice the time; and the same as all pairs at once within 2 %, mostly."""
    ours = benchmark.pedantic(_pair_by_pair, args=(24,), rounds=5, warmup_rounds=1)

    crowd = _look(NAMES[:24])
    off = [abs(abs(a or 0) / abs(b or 1) - 1) for a, b in zip(ours, crowd, strict=True)]
    assert np.median(off) < 0.02
    if benchmark.stats is not None:
        costs_s = {count: _seconds(count) for count in (6, 12, 24, 48)}
        start_s = perf_counter()
        _look(NAMES[:24])
        at_once_s = perf_counter() - start_s
        each = ", ".join(f"{n}: {s / n * 1e3:.2f} ms" for n, s in costs_s.items())
        print(f"\na post, of so many: {each}; 51 conductors at once {at_once_s * 1e3:.0f} ms")
        assert pytest.approx(8.0, rel=0.25) == costs_s[48] / costs_s[6]
