"""A thousand drills a level: every one solved, kinds as stated, places as surely as was said.

Too long for every run: `pytest tests/benchmarks --benchmark-enable -k thousand` runs it.
`DRILLS` in the environment makes it fewer.
"""

import os

import pytest

from farend_sim.campaign import Where, run
from farend_sim.drill import curriculum as of
from farend_sim.drill.calibrate import Asked, report
from farend_sim.drill.curriculum import Curriculum
from farend_sim.files import find

DRILLS = int(os.environ.get("DRILLS", "1000"))
RARE_P = 1e-3
"""With so many levels and bands, a chance under this is a defect and not bad luck."""


@pytest.mark.long
@pytest.mark.timeout(0)
@pytest.mark.parametrize("level", range(1, 10))
def test_a_thousand_drills(level: int) -> None:
    """Every drill is solved; kinds come as stated, and bands hold at least as often as they say."""
    curriculum = find(Curriculum, "curricula", "reference", of.problems)
    jobs = Where(os.cpu_count() or 1)
    told = report(curriculum, level, run(Asked(curriculum, level), range(DRILLS), jobs))

    assert told["drills"] == DRILLS
    assert told["kinds"]["p"] > RARE_P
    assert told["pinned_and_wrong"] <= 0.01 * told["drawn"]
    # bands count a meter's stated counts, which the drills' own instruments are not off by: where
    # ohms alone give the place they hold more often than they say, and never less
    assert all(band["high"] >= band["says"] for band in told["bands"])
