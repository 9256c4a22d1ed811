"""A thousand drills a level: every one solved, kinds as stated, places as surely as was said.

Too long for every run: `pytest tests/benchmarks --benchmark-enable -k thousand` runs it.
`DRILLS` in the environment makes it fewer.
"""

import os
from functools import partial
from math import sqrt

import pytest

from farend_sim.campaign import Where, run
from farend_sim.drill.expert.misfit import REFUSED
from farend_sim.drill.making.calibrate import drill_row, report
from farend_sim.drill.making.curriculum import find_curriculum

DRILLS = int(os.environ.get("DRILLS", "1000"))
RARE_P = 1e-3
"""With so many levels and bands, a chance under this is a defect and not bad luck."""


def allowed(share: float, count: int) -> float:
    """So many of a share are not yet too many, but by a chance of about RARE_P."""
    return share * count + 3.1 * sqrt(share * (1 - share) * count) + 1


def held_as_said(band: dict[str, float], count: float) -> bool:
    """Whether a band held neither more nor less often than it says, but by a chance of RARE_P."""
    from scipy.stats import binomtest

    held = round(band["held"] * count)
    return bool(binomtest(held, int(count), band["says"]).pvalue > RARE_P)


@pytest.mark.long
@pytest.mark.timeout(0)
@pytest.mark.parametrize("level", range(1, 10))
def test_a_thousand_drills(level: int) -> None:
    """Every drill is solved; kinds come as stated, and bands hold as often as they say."""
    curriculum = find_curriculum("reference")
    jobs = Where(os.cpu_count() or 1)
    told = report(
        curriculum, level, run(partial(drill_row, curriculum, level), range(DRILLS), jobs)
    )

    assert told["drills"] == DRILLS
    assert told["kinds"]["p"] > RARE_P
    assert told["pinned_and_wrong"] <= 0.01 * told["drawn"]
    assert told["refused"] <= allowed(REFUSED, told["drawn"])
    assert all(held_as_said(band, told["places"]) for band in told["bands"])
