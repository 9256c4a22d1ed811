"""What drills are made from, as data: levels in teaching order, what goes wrong on each, how often.

Law: every share and range is in the file, with its source; no number of a drill is made up here.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le, MinLen

from farend_sim.drill.drill import Part, Skill
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.errors import Problem
from farend_sim.files import find
from line_model.plant import Gauge

Span = tuple[float, float]
Percent = Annotated[float, Ge(0), Le(100)]
Theme = Literal["none", "leak", "series", "open", "battery", "reversal", "two-leaks"]
GUESS_SHARE = 0.4
"""No answer without a place may be right more often. Invented here."""
Legs = Literal["tip", "ring", "sheath", "tip-ring", "tip-sheath", "ring-sheath"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """One thing that may be wrong, and how often."""

    name: Annotated[str, MinLen(1)]
    theme: Theme
    share: Annotated[float, Gt(0)]
    legs: tuple[Legs, ...] = ()
    """Each as likely."""
    ohm: Span | None = None
    """Evenly in its logarithm."""
    volt: Span | None = None
    record_holds: bool = False
    """Whether the record has gauges and metres right: where ohms alone give the place, they are."""
    asks: Annotated[tuple[Part, ...], MinLen(1)]
    skills: Annotated[tuple[Skill, ...], MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One level: the pairs, the meters at hand, what goes wrong. Defaults: invented here."""

    level: Annotated[int, Ge(1), Le(9)]
    teaches: Annotated[str, MinLen(1)]
    meters: tuple[Annotated[str, MinLen(1)], ...]
    missing: tuple[str, ...] = ()
    """Of these meters one is not at hand."""
    gauges_awg: tuple[Gauge, ...]
    sections: Span = (1, 1)
    length_m: Span
    temperature_c: Span = (5.0, 25.0)
    tap_percent: Percent = 0.0
    noise_dbm: Span = (-75.0, -65.0)
    hum_percent: Percent = 0.0
    hum_volt: Span = (1.0, 8.0)
    behind_percent: Percent = 0.0
    """How often an office is still behind the near end."""
    doubt: Doubt = field(default_factory=Doubt)
    record: str = ""
    """What the record office says of its own record."""
    record_gauges: str = ""
    """What it says besides where a gauge may be wrong."""
    record_lengths: str = ""
    """Likewise where metres may be."""

    def doubt_of(self, mix: Mix) -> Doubt:
        """How far the record of a drill may be off."""
        if not mix.record_holds:
            return self.doubt
        return replace(self.doubt, wrong_gauge_percent=0.0, wrong_length_percent=0.0)

    def record_of(self, mix: Mix) -> str:
        """What the record office says of it."""
        doubt = self.doubt_of(mix)
        gauges = self.record_gauges if doubt.wrong_gauge_percent else ""
        lengths = self.record_lengths if doubt.wrong_length_percent else ""
        return " ".join(filter(None, (self.record, gauges, lengths)))

    budget_s: Annotated[float, Ge(60), Le(36_000)]
    mix: Annotated[tuple[Mix, ...], MinLen(1)]
    source: Annotated[str, MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """Parts that tickets are put together from."""

    cables: Annotated[tuple[str, ...], MinLen(1)]
    customers: Annotated[tuple[str, ...], MinLen(1)]
    complaints: dict[Theme, tuple[str, ...]]
    """What is said of each theme; the same words serve several."""
    routine: Annotated[tuple[str, ...], MinLen(1)]
    """What is said where nothing gives anything away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curriculum:
    """All levels."""

    format: Literal[1]
    title: str
    about: str = ""
    level: Annotated[tuple[Level, ...], MinLen(1)]
    words: Words


def find_curriculum(name_or_path: str) -> Curriculum:
    """Read a curriculum as a person names it: a shipped name, or any path."""
    return find(Curriculum, "curricula", name_or_path, problems)


def problems(curriculum: Curriculum) -> tuple[Problem, ...]:
    """What must hold between keys and does not."""
    found = []
    numbers = [one.level for one in curriculum.level]
    if len(set(numbers)) < len(numbers):
        found.append(Problem("level", "two levels of one number", "numbers that differ"))
    for at, one in enumerate(curriculum.level):
        found += _of_level(f"level[{at}]", one)
    return tuple(found)


def _of_level(path: str, level: Level) -> Iterator[Problem]:
    spans = ("sections", "length_m", "temperature_c", "noise_dbm", "hum_volt")
    for key in spans:
        low, high = getattr(level, key)
        if low > high:
            yield Problem(f"{path}.{key}", f"{low:g} over {high:g}", "the least first")
    for each in level.missing:
        if each not in level.meters:
            yield Problem(f"{path}.missing", repr(each), f"one of {', '.join(level.meters)}")
    shares = sum(mix.share for mix in level.mix)
    for at, mix in enumerate(level.mix):
        commonest = mix.share / shares / max(1, len(mix.legs))
        if "place" not in mix.asks and commonest > GUESS_SHARE:
            text = f"an answer of {100 * commonest:.0f} % of the level's drills, with no place"
            most = f"at most {100 * GUESS_SHARE:.0f} %, or who guesses is right too often"
            yield Problem(f"{path}.mix[{at}].share", text, most)
        for key in ("ohm", "volt"):
            span = getattr(mix, key)
            if span is not None and span[0] > span[1]:
                text = f"{span[0]:g} over {span[1]:g}"
                yield Problem(f"{path}.mix[{at}].{key}", text, "the least first")
        if mix.theme not in ("none", "reversal", "two-leaks") and not mix.legs:
            yield Problem(f"{path}.mix[{at}].legs", "none", "the conductors it may be on")
