"""Drills made by seed, worked by the expert on the bench, and marked by the rubric."""

import pytest

from farend_sim.drill import curriculum
from farend_sim.drill.generate import new_drill
from farend_sim.drill.verdict import judge
from farend_sim.files import find
from tests.drill.working import steps_of, worked


@pytest.mark.parametrize(("level", "seed"), [(4, 5), (6, 3)])
def test_what_the_expert_does_earns_a_pass(level: int, seed: int) -> None:
    """The expert's own steps, on a bench where time and charge count, are marked as a pass.

    So the generator's proof and the rubric agree on what may be known from which readings.
    """
    school = find(curriculum.Curriculum, "curricula", "reference", curriculum.problems)
    drill = new_drill(school, level, seed).drill
    verdict = judge(worked(drill, steps_of(drill)))
    assert verdict.failed_by == ()
    assert verdict.passed
