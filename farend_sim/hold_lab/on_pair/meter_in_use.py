"""A meter in one use, as fleets and jobs name it, and the plant on which it is used."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated

from annotated_types import MinLen

from farend_sim.bench.steps.meter import ACROSS
from farend_sim.errors import Problem, unknown
from farend_sim.files import find_scheme, load_situation
from farend_sim.hold_lab.on_pair.profiles import timed
from farend_sim.hold_lab.on_pair.question import usual_across
from farend_sim.hold_lab.timings.durations import Lognormal
from farend_sim.situation import Situation
from farend_sim.unit.table import Function
from line_model.meters.leads import BAD_GOOD
from line_model.plant import Above0, AtLeast0

HOOKUPS = (*ACROSS, *BAD_GOOD)


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """One meter in one use: a file's or shipped name, or times of its own."""

    name: Annotated[str, MinLen(1)]
    function: Function = "strap"
    across: str | None = None
    """None: as the function wants it."""
    median_s: Above0 | None = None
    """Given, these are its times, and no meter's file is read."""
    log_sd: Above0 | None = None
    job_log_sd: AtLeast0 = 0.0

    @property
    def clipped(self) -> str:
        """Where the meter is clipped."""
        return self.across or usual_across(self.function)


def used_problems(used: Used, path: str) -> Iterator[Problem]:
    """What must hold between the keys of one use."""
    if (used.median_s is None) != (used.log_sd is None):
        missing = "median_s" if used.median_s is None else "log_sd"
        yield Problem(f"{path}.{missing}", "nothing", "both median_s and log_sd, or neither")
    if used.clipped not in HOOKUPS:
        yield unknown(f"{path}.across", used.clipped, HOOKUPS)


def situation_of(scenario: str, scheme: str) -> Situation:
    """A plant with the scheme that was asked for: a name, or any file."""
    situation = load_situation(scenario)
    return replace(situation, scheme=find_scheme(scheme)) if scheme else situation


def law_of(used: Used, situation: Situation) -> Lognormal:
    """How long a reading takes in one use."""
    if used.median_s is not None and used.log_sd is not None:
        return Lognormal(used.median_s, used.log_sd, used.job_log_sd)
    return timed(used.name, situation, used.function, used.clipped).law
