"""Intervals of a share against published worked examples, and against a library."""

import pytest
from scipy.stats import binomtest

from farend_sim.shares import wilson

pytestmark = pytest.mark.outside


@pytest.mark.parametrize(
    ("count", "n", "interval"),
    [
        (81, 263, (0.2553, 0.3662)),
        (15, 148, (0.0624, 0.1605)),
        (0, 20, (0.0, 0.1611)),
        (1, 29, (0.0061, 0.1718)),
    ],
)
def test_newcombes_table(count: int, n: int, interval: tuple[float, float]) -> None:
    """Newcombe, Statistics in Medicine 17 (1998) 857, 95 %, from memory."""
    assert wilson(count / n, n) == pytest.approx(interval, abs=6e-5)


@pytest.mark.parametrize(("hits", "count"), [(0, 30), (1, 30), (15, 40), (300, 300), (7, 1000)])
def test_wilson_is_that_of_a_library(hits: int, count: int) -> None:
    """Beside scipy's own, to 1e-6."""
    peer = binomtest(hits, count).proportion_ci(method="wilson")

    assert wilson(hits / count, count) == pytest.approx((peer.low, peer.high), abs=1e-6)
