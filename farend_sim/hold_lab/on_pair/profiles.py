"""How long a meter takes, from its file: a measuring cycle on a stated plant, or timings known.

A meter that the bench can play is played: its stages, ranges and settling come from the line, and
the person's part has the spreads of its file. One that is known by its times alone is a file of
`scenarios/durations/`.
"""

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Annotated, Literal

from annotated_types import MinLen

from farend_sim.bench.bench import Bench
from farend_sim.errors import BadFileError, Problem, unknown, unsourced
from farend_sim.files import find, find_meter, is_path
from farend_sim.hold_lab.on_pair.on_bench import held
from farend_sim.hold_lab.timings.durations import Lognormal
from farend_sim.loading.document import read_document
from farend_sim.loading.messages import bad_file
from farend_sim.shipped import names
from farend_sim.situation import Situation
from line_model.meters.cycle import Reading
from line_model.meters.profile import MeterProfile
from line_model.plant import Above0, AtLeast0

ROUNDS = 60
"""Cycles that a display is given to settle. A choice, no source."""
PLANT = "good-pair"
PLANTS = {"bridge": "cut-off-balance"}
"""What a kind of meter is timed on, unless it is said: a bridge seeks only what is there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownTimes:
    """An instrument known by its times alone."""

    format: Literal[1]
    kind: Literal["times"]
    title: Annotated[str, MinLen(1)]
    median_s: Above0
    """From the contact's close to the reading in hand."""
    log_sd: Above0
    """Within a job."""
    job_log_sd: AtLeast0
    """Between jobs."""
    integrates_s: Above0
    """The last stretch of a reading; a contact that drops in it leaves a number all the same."""
    source: dict[str, str] = field(default_factory=dict, hash=False, compare=False)


@dataclass(frozen=True, slots=True)
class Timed:
    """A meter's times."""

    title: str
    law: Lognormal
    integrates_s: float
    unread: str = ""
    """What it shows in the place of a value, on the stated plant; else nothing."""
    profile: MeterProfile | None = None
    """What the bench plays; None for one known by its times."""


def timed(name: str, situation: Situation, function: str, across: str = "tip-ring") -> Timed:
    """The times of a meter by name or file, on a plant in a function.

    Raises:
        BadFileError: there is no such meter, or it has faults, or no hold can begin there.
    """
    profile = profile_of(name)
    if profile is None:
        return _known(find(KnownTimes, "durations", name, _sourced))
    return _played(profile, situation, function, across)


def profile_of(name: str) -> MeterProfile | None:
    """A meter that the bench can play, by name or file; None for one known by its times."""
    if name in names("durations") or (is_path(name) and _kind(name) == "times"):
        return None
    if not is_path(name) and name not in names("meters"):
        known = (*names("meters"), *names("durations"))
        expected = f"a file or one of {', '.join(known)}"
        raise bad_file(name, [(None, unknown("", name, known, expected, "no such meter"))])
    return find_meter(name)


def usual_plant(meter: str | None) -> str:
    """The plant that a meter is timed on where nothing else is said."""
    profile = None if meter is None else profile_of(meter)
    return PLANT if profile is None else PLANTS.get(profile.kind, PLANT)


def _kind(name: str) -> object:
    return read_document(Path(name), name).table.get("kind")


def _sourced(known: KnownTimes) -> tuple[Problem, ...]:
    keys = ("median_s", "log_sd", "job_log_sd", "integrates_s")
    return tuple(unsourced(known.source, keys))


def _known(known: KnownTimes) -> Timed:
    law = Lognormal(known.median_s, known.log_sd, known.job_log_sd)
    return Timed(known.title, law, known.integrates_s)


def _played(profile: MeterProfile, situation: Situation, function: str, across: str) -> Timed:
    """Play the meter with its middle hands; what is not hands is fixed."""
    cycle = profile.cycle
    at_hand = replace(situation, meters={**situation.meters, "lab": profile})
    bench = held(at_hand, function, 3600.0).again()
    bench.clip_meter("lab", profile.usual(across))
    fixed_s = 0.0
    for _ in range(ROUNDS):
        taken_s, reading = _reading_s(bench)
        fixed_s += taken_s - cycle.hands_s
        if reading.settled:
            break
    if not reading.settled:
        raise BadFileError(
            f"{profile.title}: found a display that does not settle in {ROUNDS} readings on this "
            f"plant in {function}, expected one that does"
        )
    person_s = cycle.reach_s + cycle.hands_s
    law = Lognormal(max(person_s, 1e-3), cycle.hands_log_sd, cycle.job_log_sd, fixed_s)
    if law.log_sd == 0:
        law = replace(law, log_sd=1e-3)  # no spread stated: all but none
    unread = "" if reading.over or reading.value is not None else reading.shown
    return Timed(profile.title, law, cycle.sample_s, unread, profile)


def _reading_s(bench: Bench) -> tuple[float, Reading]:
    """How long one reading took, and what it was."""
    start_us = bench.now_us
    bench.start_reading()
    reading = bench.finish_reading()
    return (bench.now_us - start_us) / 1e6, reading
