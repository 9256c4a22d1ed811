"""A fleet as a person writes it down: which meters are used how often, for what, on which plant."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Literal

from annotated_types import Gt, MinLen

from farend_sim.errors import Problem
from farend_sim.files import find, find_scheme, load_situation
from farend_sim.hold_lab.durations import Lognormal
from farend_sim.hold_lab.profiles import Timed, timed
from farend_sim.situation import Situation
from line_model.meters.leads import bad_good
from line_model.plant import Above0, AtLeast0

Function = Literal["tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """One meter in one use: a file's or shipped name, or times of its own."""

    name: Annotated[str, MinLen(1)]
    function: Function = "strap"
    across: Annotated[str, MinLen(1)] = "tip-ring"
    median_s: Above0 | None = None
    """Given, these are its times, and no meter's file is read."""
    log_sd: Above0 | None = None
    job_log_sd: AtLeast0 = 0.0
    integrates_s: Above0 = 3.0
    """The last stretch of a reading [s]: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetMeter(Used):
    share: Above0
    """Of all readings; shares are taken relative to their sum."""
    dials: bool = False
    """Whether its user always dials a hold of its own, so that no default is made for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fleet:
    """Who reads what with which meter. Defaults: invented for the demo."""

    format: Literal[1]
    title: Annotated[str, MinLen(1)]
    scenario: Annotated[str, MinLen(1)] = "good-pair"
    """The plant on which meters settle and on which the unit hears or does not."""
    scheme: str = ""
    """In place of the scenario's."""
    command_s: Above0 | None = None
    """In place of what the scheme comes to."""
    readings_per_day: Above0 = 40.0
    battery_h: Above0 = 100.0
    """Of hold, from one battery."""
    patience: Annotated[int, Gt(0)] = 20
    meter: Annotated[tuple[FleetMeter, ...], MinLen(1)]
    source: dict[str, str]


ACROSS = tuple(
    f"{plus}-{minus}"
    for plus in ("tip", "ring", "sheath", "tip+ring")
    for minus in ("tip", "ring", "sheath", "tip+ring")
    if not set(plus.split("+")) & set(minus.split("+"))
) + tuple(bad_good(bad, good) for bad, good in (("tip", "ring"), ("ring", "tip")))


def load_fleet(name: str) -> Fleet:
    """Read a fleet: a file, or a shipped one by its name.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    return find(Fleet, "fleets", name, lambda fleet: tuple(_problems(fleet)))


def _problems(fleet: Fleet) -> Iterator[Problem]:
    for at, meter in enumerate(fleet.meter):
        yield from used_problems(meter, f"meter[{at}]")
    for key in ("share", "readings_per_day", "battery_h"):
        if not fleet.source.get(key, "").strip():
            yield Problem(f"source.{key}", "no source", f"where {key} is from")
    if all(meter.dials for meter in fleet.meter):
        yield Problem("meter", "none that uses the default", "one with dials = false")


def used_problems(used: Used, path: str) -> Iterator[Problem]:
    """What must hold between the keys of one use."""
    if (used.median_s is None) != (used.log_sd is None):
        missing = "median_s" if used.median_s is None else "log_sd"
        yield Problem(f"{path}.{missing}", "nothing", "both median_s and log_sd, or neither")
    if used.across not in ACROSS:
        yield Problem(f"{path}.across", repr(used.across), f"one of {', '.join(ACROSS)}")


def situation_of(scenario: str, scheme: str) -> Situation:
    """A plant with the scheme that was asked for: a name, or any file."""
    situation = load_situation(scenario)
    return replace(situation, scheme=find_scheme(scheme)) if scheme else situation


def times_of(used: Used, situation: Situation) -> Timed:
    """The times of one use."""
    if used.median_s is not None and used.log_sd is not None:
        law = Lognormal(used.median_s, used.log_sd, used.job_log_sd)
        return Timed(used.name, law, used.integrates_s)
    return timed(used.name, situation, used.function, used.across)
