"""A measuring cycle: what a meter does next, told by what it has seen so far.

Law: `doing` is a pure function of what was taken. A meter in time and a meter at rest go through
the very same cycle; neither has a state that is not in that history.
"""

from abc import ABC, abstractmethod
from collections.abc import Hashable
from dataclasses import dataclass, field
from enum import Enum
from typing import Annotated, ClassVar, Literal

from annotated_types import Ge, Gt, MinLen

from line_model.meters.display import OVER_RANGE
from line_model.meters.leads import MINUS, PLUS, bad_good, joined, refuses
from line_model.parts import Part
from line_model.plant import Above0, AtLeast0
from line_model.standing import AtRest, Resting, Standing
from line_model.terminals import Terminals

Count = Annotated[int, Ge(0)]
Looks = Annotated[int, Gt(0)]
Amount = tuple[complex, ...]
"""What a meter takes in at once: a voltage, a mean square, two of them; a mean is taken of it."""
More = tuple[tuple[str, float | str | bool | None], ...]


class Stage(Enum):
    REST = "rest"
    HANDS = "hands"
    CHECK = "check"
    RANGE = "range"
    LOOP = "loop"
    SETTLE = "settle"
    CHARGE = "charge"
    SAMPLE = "sample"
    SWING = "swing"
    DISCHARGE = "discharge"


@dataclass(frozen=True, slots=True)
class Do:
    """One stage of a cycle."""

    stage: Stage
    seconds: float
    setting: Hashable = None
    """How the meter is set meanwhile; None: as it is."""
    takes: bool = False
    """Whether what stands across it now goes into the reading."""
    firm: bool = False
    """Whether it spoils the reading when something switches now."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A stage that is over, and what was taken in it."""

    do: Do
    amount: Amount
    """Its mean over the stage; empty where nothing was taken."""
    rest: Amount
    """Where it will end, likewise."""


@dataclass(frozen=True, slots=True)
class Came:
    """What came of a cycle: what the display says."""

    value: float | None
    shown: str
    over: bool = False
    settled: bool = True
    """Whether the value is within accuracy of its end value."""
    more: More = ()
    """Further figures, by keys that end in their units."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of a measuring cycle. `value` is None over range, or where words tell why."""

    meter: str
    across: str
    value: float | None
    unit: str
    over: bool
    shown: str
    settled: bool
    """Nothing switched while sampling, and the value is within accuracy of its end value."""
    more: More = ()


@dataclass(frozen=True, slots=True)
class Own:
    """What is this one instrument's own, beside its file."""

    error: float = 0.0
    """-1 to 1 of its stated accuracy."""
    zeroed: bool = False
    """Whether its leads were touched together and taken off."""
    across: str = ""
    """Where it is clipped."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Times that every meter's cycle has."""

    hands_s: AtLeast0
    """Until the person has pressed and the meter has begun [s]."""
    settle_s: Above0
    sample_s: Above0
    looks: Looks = 4
    """How often the display is written during the sampling stage. Invented for the demo."""
    reach_s: AtLeast0 = 0.0
    """Until the hands are at the meter, before `hands_s`: no part of its own cycle [s]."""
    hands_log_sd: AtLeast0 = 0.0
    """Spread of the person's part from try to try, of its logarithm; played, it is the middle."""
    job_log_sd: AtLeast0 = 0.0
    """Likewise from job to job."""

    @property
    def look_s(self) -> float:
        return self.sample_s / self.looks


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterFile(ABC):
    """What every meter's file says, and what every kind of meter must know to do."""

    UNIT: ClassVar[str]
    HOOKUP: ClassVar[Literal["two", "bad-good"]] = "two"
    """Whether it is clipped across two terminals, or to a bad leg, a good one and the sheath."""
    DRIVES: ClassVar[bool] = True
    """Whether it puts a voltage of its own on the pair, more than a telephone does."""
    ZEROES: ClassVar[bool] = False
    """Whether its leads can be touched together and taken off."""
    STAGES: ClassVar[tuple[Stage, ...]] = (Stage.HANDS, Stage.SETTLE, Stage.SAMPLE)
    """The stages of its cycle, in their order; some may come again."""
    REST: ClassVar[Hashable] = 0
    """How it is set when it is clipped on."""
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE,)
    """What its display may say in the place of a number."""
    GOES_BACK: ClassVar[bool] = False
    """Whether it is set so again once it has read: no voltage of its own stays on the pair."""

    format: Literal[1]
    title: Annotated[str, MinLen(1)]
    source: dict[str, str] = field(hash=False, compare=False)
    lead_ohm: AtLeast0
    """Each test lead [ohm]."""
    accuracy_percent: Above0
    accuracy_counts: Count
    cycle: Pace
    caution: str = ""
    """What a person must know before it is clipped on."""

    @abstractmethod
    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        """What is between its terminals, as it is set."""

    @abstractmethod
    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        """What it does next, or what has come of it."""

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        """What stands at its terminals over a time: the mean voltage, unless it knows better."""
        return (standing.mean(PLUS, MINUS, from_us, to_us) or 0.0,)

    def at_rest(self, setting: Hashable, standing: AtRest, now_us: int) -> Amount:
        """The same when all has settled."""
        return self.probe(setting, Resting(standing), now_us, now_us + 1)

    @abstractmethod
    def within(self, reading: "Reading") -> float:
        """How far a reading may be off, in its unit."""

    def parts(self, setting: Hashable, across: str, at: Terminals) -> tuple[Part, ...]:
        """What the meter, clipped at some terminals, is to the pair: leads and what is inside."""
        return (*joined(across, at, self.lead_ohm), *self.inside(setting))

    def refuses(self, across: str) -> str | None:
        """Why it cannot be clipped so; None if it can."""
        return refuses(self.HOOKUP, across)

    def usual(self, across: str) -> str:
        """A hook-up if it can be clipped so, else the usual one of its kind."""
        if self.refuses(across) is None:
            return across
        return "tip-ring" if self.HOOKUP == "two" else bad_good("tip", "ring")

    def live(self, taken: tuple[Taken, ...], own: Own) -> str:
        """What the display shows while the cycle goes on, if anything."""
        return ""

    def off(self, value: float, step: float) -> float:
        """How far a value may be off by the stated accuracy, on a display of such steps."""
        return abs(value) * self.accuracy_percent / 100 + self.accuracy_counts * step

    def gain(self, own: Own) -> float:
        """This instrument's own gain."""
        return 1 + own.error * self.accuracy_percent / 100
