"""A drill: a scenario with a hidden trouble, the ticket it came with, and what it teaches.

`DrillFile` is what an author writes: a scenario's tables and `[drill]`. `Drill` is one loaded.
"""

from dataclasses import dataclass, field, replace
from typing import Annotated, Literal

from annotated_types import Ge, Le, MinLen

from farend_sim.bench.answer import Action, Answer
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.seal import Sealed
from farend_sim.drill.truth import truth
from farend_sim.scenario import Scenario
from farend_sim.situation import Situation
from line_model.plant import Plant

Skill = Literal[
    "good-pair",
    "identify",
    "foreign-volts",
    "short",
    "open",
    "ground",
    "leak",
    "bridge",
    "series",
    "leg-balance",
    "temperature",
    "gauge",
    "tap",
    "sheath",
    "noise",
    "split",
    "two-troubles",
    "intermittent",
    "record",
    "unit",
    "holds",
]
"""What a drill teaches, in the order in which it is taught. Common practice, no source."""

Part = Literal["kind", "leg", "place", "ohm", "action"]
"""What an answer may be asked for."""


WITHIN_PERCENT = 5.0
"""How close a place has to be, of the route, where a drill does not say. Invented here; the gauge
alone, as built, may move a loop's end by so much: 7 CFR 1755.403(d)(6)(i)."""
WITHIN_LEAST_M = 30.0
"""On a short route, this instead. Invented here."""


def near_enough_m(record: Plant) -> float:
    """How close a place has to be on a record, which may be wrong: nothing else is known [m]."""
    return max(WITHIN_LEAST_M, record.length_m * WITHIN_PERCENT / 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """The table `[drill]`: what the trainee is told, and what a drill is for."""

    level: Annotated[int, Ge(1), Le(9)]
    order: Annotated[int, Ge(0)] = 0
    """Its number among the drills of its level; of equals the name decides."""
    skills: Annotated[tuple[Skill, ...], MinLen(1)]
    ticket: Annotated[str, MinLen(1)]
    """The work ticket, in words."""
    record: str = ""
    """A note on the plant record, as the record office wrote it; it may be wrong."""
    doubt: Doubt = field(default_factory=Doubt)
    """How far the record may be off: standard deviations, in which the expert's bands are."""
    budget_s: Annotated[float, Ge(60), Le(36_000)] = 1800.0
    """How long the job should take at most, of the bench's own time [s]. Invented for the demo."""
    asks: Annotated[tuple[Part, ...], MinLen(1)] = ("kind", "leg", "place", "ohm", "action")
    """What can be found out with the meters at hand; no more is marked."""
    action: Action | None = None
    """What is to be done, where it is not what the trouble's kind says."""
    within_m: float | None = None
    """How close a place has to be; None: near enough by the record [m]."""
    repair: bool = False
    """Whether the trouble is to be made good and measured again, not only found."""
    expert: str = ""
    """What an expert would have done, in the author's words: shown after the drill only."""
    practice: str = ""
    """What to practise next: shown after the drill only."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillFile(Scenario):
    """A drill as an author writes it."""

    drill: Lesson


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """A drill, loaded and sound. Its situation holds the trouble: none of it is for a screen."""

    name: str
    lesson: Lesson
    situation: Situation
    sealed: Sealed
    """The author's text and the expert's steps."""

    @property
    def title(self) -> str:
        """Its title."""
        return self.situation.scenario.title or self.name

    @property
    def meters(self) -> tuple[str, ...]:
        """The meters at hand, as steps call them."""
        return tuple(self.situation.meters)

    @property
    def truth(self) -> tuple[Answer, ...]:
        """What is wrong, as a trainee would have to say it."""
        own, found = self.lesson.action, truth(self.situation.scenario)
        return tuple(replace(one, action=own or one.action) for one in found)

    @property
    def within_m(self) -> float:
        """How close a place has to be [m]."""
        return self.lesson.within_m or near_enough_m(self.situation.scenario.recorded)

    @property
    def leaks(self) -> bool:
        """Whether its trouble leaks, and may be a cell that reads two ways; no short does."""
        kinds = ("leak", "wet")
        return any(one.kind in kinds and one.resistance != "short" for one in self.truth)
