"""Steps while time goes on: the same comes of them however time is sliced, and whoever listens."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.live import Came, LiveBench
from farend_sim.files import load_situation

SCENARIOS = Path(__file__).parents[2] / "scenarios"
STEPS = ("keys #*27", "meter ohms tip-ring", "read", "keys 18*", "read", "note strapped", "read")
SECONDS = (2, 0, 8, 3, 5, 60, 9)
"""What is done, and how long it is waited after each."""


def _worked(scenario: str, slice_us: int, *, on_screen: bool) -> Iterator[Came]:
    """What comes of the steps, time let pass in slices, a screen looking at the end of each."""
    live = LiveBench(Bench(load_situation(SCENARIOS / f"{scenario}.toml")))
    for text, wait_s in zip(STEPS, SECONDS, strict=True):
        yield live.begin(*parse(text, "step"))
        until_us = live.bench.now_us + wait_s * 1_000_000
        while (start_us := live.bench.now_us) < until_us:
            yield from live.advance_to(min(until_us, start_us + slice_us))
            if on_screen:
                live.bench.hears(start_us, "screen")


@pytest.mark.parametrize(
    ("scenario", "ends_s"), [("good-pair", [7.9, 16.9, 83.9]), ("working-pair", [7.9, 16.9, 83.5])]
)
def test_slices_and_a_screen_change_nothing(scenario: str, ends_s: list[float]) -> None:
    """A reading is told at its cycle's end, and what a step heard is no screen's to take away."""
    whole = list(_worked(scenario, 100_000_000, on_screen=False))
    sliced = list(_worked(scenario, 40_000, on_screen=True))

    assert whole == sliced
    assert ends_s == [one.row["t_s"] for one in whole if "shown" in one.row]
    assert any(one.row["heard"] for one in whole)


def test_a_reading_given_up_is_not_told() -> None:
    """The meter taken off in mid-cycle, there is no reading; the next one is its own step's."""
    live = LiveBench(Bench(load_situation(SCENARIOS / "good-pair.toml")))
    steps = parse("meter ohms tip-ring\nread\nmeter off\nmeter volts tip-ring\nread", "steps")
    for step in steps:
        live.begin(step)
        told = live.advance_to(live.bench.now_us + 1_000_000)
        assert told == []
    (came,) = live.advance_to(live.bench.now_us + 9_000_000)

    assert (came.step, came.row["meter"]) == (steps[-1], "volts")


def test_a_reading_that_is_over_while_hands_work_is_told() -> None:
    """A tie takes a minute: the reading begun before it is told behind it, with its own time."""
    live = LiveBench(Bench(load_situation(SCENARIOS / "borrowed-pair.toml")))
    for step in parse("meter ohms tip-ring\nread\ntie spare tip", "steps"):
        refused = live.begin(step).row.get("refused")
    (came,) = live.advance_to(live.bench.now_us)

    assert refused is None
    assert came.row["t_s"] < live.bench.now_us / 1e6 == 60.0
    assert live.advance_to(live.bench.now_us + 9_000_000) == []
