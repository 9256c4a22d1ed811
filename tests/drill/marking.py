"""What tests of marks share: ways to begin, and what came of a verdict."""

import pytest

from farend_sim.drill.drill import Drill
from farend_sim.drill.marks.verdict import Verdict, judge
from tests.drill.working import worked

VOLTS = [
    line
    for meter in ("volts", "ac-volts")
    for across in ("tip-ring", "tip-sheath", "ring-sheath")
    for line in (f"meter {meter} {across}", "read")
]
LIFTED = ["lift", "wait 20", *VOLTS, "meter off"]
SHORT = "answer kind=short at_m=1323 within_m=90 ohm=short action=repair"


def marked(drill: Drill, steps: list[str]) -> Verdict:
    return judge(worked(drill, steps))


def given(verdict: Verdict, name: str) -> tuple[bool, bool]:
    """Whether a mark was given whole, and whether it failed the drill."""
    (one,) = (each for each in verdict.given if each.name == name)
    return one.points == pytest.approx(one.most), one.fails


def mistakes(verdict: Verdict) -> str:
    return "; ".join(one.text for one in verdict.mistakes)
