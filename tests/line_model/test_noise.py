"""Noise is a function of seed, source and sample index, and it is white and Gaussian."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.noise import BLOCK, white

SAMPLES = 200_000


@given(
    first=st.integers(-5 * BLOCK, 5 * BLOCK),
    cuts=st.lists(st.integers(0, 3 * BLOCK), max_size=5),
)
def test_slicing_changes_nothing(first: int, cuts: list[int]) -> None:
    """However a stretch is cut, each sample is the same to the bit."""
    edges = [first, *(first + cut for cut in sorted(cuts)), first + 3 * BLOCK]

    pieces = [white(7, "line", a, b) for a, b in pairwise(edges)]

    assert np.array_equal(white(7, "line", first, first + 3 * BLOCK), np.concatenate(pieces))


def test_mean_zero_variance_one() -> None:
    """Over many samples the mean is 0 and the variance 1, within five standard errors."""
    noise = white(1, "line", 0, SAMPLES)

    assert abs(noise.mean()) < 5 / SAMPLES**0.5
    assert abs(noise.var() - 1) < 5 * (2 / SAMPLES) ** 0.5


def test_no_sample_tells_of_another() -> None:
    """Neighbours, and samples a block apart, are uncorrelated within five standard errors."""
    noise = white(1, "line", 0, SAMPLES)

    for lag in (1, 2, 7, BLOCK):
        assert abs(np.mean(noise[lag:] * noise[:-lag])) < 5 / SAMPLES**0.5


@pytest.mark.parametrize(("seed", "source"), [(2, "line"), (1, "induction"), (11, "ine")])
def test_every_seed_and_source_is_its_own(seed: int, source: str) -> None:
    """Another seed or another source gives noise that has nothing to do with the first."""
    one, other = white(1, "line", 0, SAMPLES), white(seed, source, 0, SAMPLES)

    assert abs(np.mean(one * other)) < 5 / SAMPLES**0.5


def test_the_same_in_every_release() -> None:
    """Old transcripts stay true: these are the first three samples of seed 7, source line."""
    assert white(7, "line", 0, 3).round(6).tolist() == [-1.539474, -1.320359, -0.536492]


def test_many_blocks_at_once_are_the_same_blocks() -> None:
    """A long stretch, drawn in one go, is the short ones side by side, below zero too."""
    for first in (-3 * BLOCK - 5, 10**9):
        edges = range(first, first + 10 * BLOCK, BLOCK // 2)
        pieces = [white(3, "line", a, a + BLOCK // 2) for a in edges]

        assert np.array_equal(white(3, "line", first, first + 10 * BLOCK), np.concatenate(pieces))
