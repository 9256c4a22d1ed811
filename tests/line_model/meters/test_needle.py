"""The needle against the closed forms of a damped second-order movement."""

from math import atan2, exp, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.meters.needle import Needle

dampings = st.floats(0.05, 0.95)
periods_s = st.floats(0.5, 3.0)


@pytest.mark.outside
@given(dampings, periods_s)
def test_a_step_overshoots_by_the_closed_form(damping: float, period_s: float) -> None:
    """From nought to a rest of one, the first peak is 1 + exp(-pi d / sqrt(1 - d2)).

    Source: the damped second-order system, any textbook (from memory).
    """
    track = list(Needle(period_s, damping).follow([1.0] * 4000, period_s / 1000))
    peak = 1 + exp(-pi * damping / sqrt(1 - damping**2))

    assert pytest.approx(peak, abs=1e-4) == max(track)
    assert pytest.approx(1.0, abs=0.3) == track[-1]


@pytest.mark.outside
@given(dampings, periods_s)
def test_a_short_kick_follows_its_charge(damping: float, period_s: float) -> None:
    """An impulse of area q kicks to q w exp(-d a / sqrt(1 - d2)), a = atan(sqrt(1 - d2) / d).

    Source: the ballistic galvanometer, any textbook of electrical measurements (from memory).
    """
    slice_s = period_s / 5000
    track = Needle(period_s, damping).follow([1.0, *[0.0] * 5000], slice_s)
    root = sqrt(1 - damping**2)
    throw = slice_s * 2 * pi / period_s * exp(-damping / root * atan2(root, damping))

    assert pytest.approx(throw, rel=1e-3) == max(track)


def test_slices_of_any_length_end_alike() -> None:
    """The law is exact for a constant input: halving the slices changes nothing."""
    needle = Needle(1.0, 0.35)
    coarse = list(needle.follow([3.0] * 50, 0.02))
    fine = list(needle.follow([3.0] * 200, 0.005))

    assert coarse == pytest.approx(fine[3::4], abs=1e-9)
