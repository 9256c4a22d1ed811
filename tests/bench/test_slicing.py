"""Time in any slices: bench, readings, contacts and sounds are the same."""

from collections.abc import Callable
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.files import load_situation
from tests.bench.play import SCENARIOS

Script = tuple[tuple[int, Callable[[Bench], object]], ...]
STRAPPED_AND_READ: Script = (
    (0, lambda bench: bench.press("#*2718*")),
    (2_500_000, lambda bench: bench.clip_meter("ohms", "tip-ring")),
    (2_600_000, lambda bench: bench.start_reading()),
    (8_000_000, lambda bench: bench.unclip_meter()),
    (8_100_000, lambda bench: bench.press("#*2796*")),
    (66_000_000, lambda bench: bench.press("#*2763*")),
    (75_000_000, lambda bench: None),
)
"""Knock, strap, read, a release that nobody hears, and the tone."""
BESIDE_DIAL_TONE: Script = (
    (0, lambda bench: bench.clip_lead("loop")),
    (300_000, lambda bench: bench.press("#*2718*")),
    (1_700_000, lambda bench: bench.clip_lead("clear")),
    (1_800_000, lambda bench: bench.press("#*2752*")),
    (4_500_000, lambda bench: bench.clip_meter("ac-volts", "tip-ring")),
    (4_600_000, lambda bench: bench.press("#*2796*")),
    (6_800_000, lambda bench: bench.clip_lead("loop")),
    (6_810_000, lambda bench: bench.start_reading()),
    (7_100_000, lambda bench: bench.clip_lead("clear")),
    (8_650_000, lambda bench: bench.clip_lead("loop")),
    (12_000_000, lambda bench: bench.unclip_meter()),
    (12_100_000, lambda bench: bench.clip_lead("clear")),
)
"""Loop, dial tone, keys too weak beside it, a hold, an AC reading over dial tone's start."""
STORIES = {"good-pair": STRAPPED_AND_READ, "into-dial-tone": BESIDE_DIAL_TONE}


def told(name: str, cuts_us: list[int]) -> list[object]:
    """All that is to be seen and heard of a story, time cut at the given moments besides."""
    bench = Bench(load_situation(SCENARIOS / f"{name}.toml"))
    seen: list[object] = []
    since_us = 0
    for at_us, act in STORIES[name]:
        for cut_us in sorted(cut for cut in cuts_us if bench.now_us < cut < at_us):
            bench.advance_to(cut_us)
        bench.advance_to(at_us)
        seen += [bench.snapshot(), *bench.hears(since_us), *bench.far_ear.receiver.refusals]
        since_us = at_us
        act(bench)
    return seen


@cache
def whole(name: str) -> list[object]:
    return told(name, [])


@pytest.mark.parametrize("name", STORIES)
@settings(max_examples=12, deadline=None)
@given(cuts=st.lists(st.floats(0, 1), max_size=60))
def test_slicing_time_changes_nothing(name: str, cuts: list[float]) -> None:
    """However time is sliced, contacts, readings, sounds and refused keys are the same."""
    end_us, _ = STORIES[name][-1]

    assert told(name, [round(cut * end_us) for cut in cuts]) == whole(name)


def test_the_stories_have_what_they_tell_of() -> None:
    """Dial tone, replies, refused keys, holds and readings are in what is compared."""
    kinds = {getattr(one, "what", type(one).__name__) for name in STORIES for one in whole(name)}

    assert {"dial", "reply", "Refused", "Snapshot"} <= kinds


def test_a_moment_asked_for_is_reached() -> None:
    """Digits that are heard on the way cut no wait short."""
    bench = Bench(load_situation(SCENARIOS / "working-pair.toml"))
    bench.press("#*27")
    for until_us in range(30_000, 2_000_000, 30_000):
        bench.advance_to(until_us)
        assert until_us == bench.now_us
