"""Intervals of a share against published worked examples."""

import pytest

from farend_sim.hold_lab.binomial import exact, wilson

pytestmark = pytest.mark.outside


@pytest.mark.parametrize(
    ("count", "n", "by_wilson", "by_exact"),
    [
        (81, 263, (0.2553, 0.3662), (0.2527, 0.3676)),
        (15, 148, (0.0624, 0.1605), (0.0578, 0.1617)),
        (0, 20, (0.0, 0.1611), (0.0, 0.1684)),
        (1, 29, (0.0061, 0.1718), (0.0009, 0.1776)),
    ],
)
def test_newcombes_table(
    count: int, n: int, by_wilson: tuple[float, float], by_exact: tuple[float, float]
) -> None:
    """Newcombe, Statistics in Medicine 17 (1998) 857, 95 %, from memory."""
    assert wilson(count, n) == pytest.approx(by_wilson, abs=6e-5)
    assert exact(count, n) == pytest.approx(by_exact, abs=6e-5)


def test_the_handbooks_worked_case() -> None:
    """NIST/SEMATECH e-Handbook 7.2.4.2: 4 of 20, 90 % two-sided (its answer from memory)."""
    assert exact(4, 20, 0.90) == pytest.approx((0.071354, 0.401029), abs=2e-6)
