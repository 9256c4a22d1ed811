"""Samples, levels and sines."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.signal import (
    SILENCE_DBM,
    dbm_to_volt,
    gain_at,
    power_sum_dbm,
    sample_span,
    sine,
    volt_to_dbm,
)


def test_a_milliwatt_in_600_ohm() -> None:
    """0 dBm is 0.7746 V, and silence has a level that can be printed."""
    assert dbm_to_volt(0.0) == pytest.approx(0.7746, abs=5e-5)
    assert volt_to_dbm(dbm_to_volt(-37.3)) == pytest.approx(-37.3)
    assert volt_to_dbm(0.0) == SILENCE_DBM


def test_two_alike_are_three_db_more() -> None:
    """Sounds add by power."""
    assert power_sum_dbm([-10.0, -10.0]) == pytest.approx(-6.99, abs=0.01)


@given(start_us=st.integers(-(10**6), 10**12), length_us=st.integers(0, 10**6))
def test_span_holds_exactly_the_samples_between(start_us: int, length_us: int) -> None:
    """Sample n is in the span if start <= 125 n < end, and adjoining spans share none."""
    first, last = sample_span(start_us, start_us + length_us)

    assert 125 * (first - 1) < start_us <= 125 * first
    assert 125 * (last - 1) < start_us + length_us <= 125 * last


@given(
    start_us=st.integers(0, 10**11),
    cuts=st.lists(st.integers(0, 400), max_size=6),
    hz=st.floats(300, 3400),
)
def test_slicing_changes_no_sample(start_us: int, cuts: list[int], hz: float) -> None:
    """A sine cut anywhere has the same samples to the bit, hours after the start too."""
    first = start_us // 125 - 20
    edges = [first, *(first + cut for cut in sorted(cuts)), first + 400]
    pieces = [sine(hz, 0.3 + 0.4j, start_us, a, b, start_us + 40_000) for a, b in pairwise(edges)]

    whole = sine(hz, 0.3 + 0.4j, start_us, first, first + 400, start_us + 40_000)

    assert np.array_equal(whole, np.concatenate(pieces))


def test_a_phasor_sets_level_and_phase() -> None:
    """The rms is the phasor's size, its angle the lead of the sine."""
    samples = sine(1000.0, 0.5j, 0, 0, 8000)

    assert np.sqrt(np.mean(samples**2)) == pytest.approx(0.5)
    assert samples[0] == pytest.approx(0.5 * 2**0.5)


def test_the_nearest_gain_serves() -> None:
    """A tone that is a little off takes the gain of the frequency that was solved."""
    assert gain_at({697.0: 1 + 0j, 770.0: 2 + 0j}, 705.0) == 1
    assert gain_at({697.0: 1 + 0j, 770.0: 2 + 0j}, 770.0) == 2
