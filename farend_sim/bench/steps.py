"""The steps of a run as data: what is done at the bench, one after another.

Law: a step says what was typed and means nothing by itself; only the bench acts.
The grammar that reads them from text is in steps_grammar.py.
"""

from dataclasses import dataclass
from typing import Literal

from farend_sim.bench.faults import Fault
from farend_sim.bench.step_typed import Typed
from farend_sim.bench.steps_block import Clip as Clip
from farend_sim.bench.steps_block import Pinch as Pinch
from farend_sim.bench.steps_block import Probe as Probe
from farend_sim.bench.steps_block import Tie as Tie
from farend_sim.bench.steps_block import Untie as Untie
from farend_sim.bench.steps_route import Bond as Bond
from farend_sim.bench.steps_route import Go as Go
from farend_sim.bench.steps_route import Join as Join
from farend_sim.bench.steps_route import Look as Look
from farend_sim.bench.steps_route import OpenJoint as OpenJoint
from farend_sim.bench.steps_route import Repair as Repair
from farend_sim.drill.answer import Answer

Across = Literal[
    "tip-ring",
    "ring-tip",
    "tip-sheath",
    "sheath-tip",
    "ring-sheath",
    "sheath-ring",
    "tip+ring-sheath",
    "sheath-tip+ring",
]
"""Where a meter's two leads go: plus first."""

NearLead = Literal["short", "ground", "loop", "clear"]


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitWake(Typed):
    """A helper presses the unit's button."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitOff(Typed):
    """A helper switches the unit off, by a long press; its clips stay on the pair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitUnclip(Typed):
    """A helper takes the unit's clips off the pair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitClip(Typed):
    """A helper clips the unit on, perhaps with legs exchanged or without its ground lead."""

    reversed: bool = False
    ground: bool = True
    to_sheath: bool = False
    """The clip of its own ring on the sheath."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitBattery(Typed):
    """The unit's battery goes in or comes out."""

    present: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift(Typed):
    """Take what is behind the near end off the pair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Restore(Typed):
    """Put it back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOn(Typed):
    """Clip a meter across two terminals, or a bridge to a bad leg and a good one."""

    meter: str
    across: str
    """An `Across`, or `bad=tip good=ring`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOff(Typed):
    """Take the meter off."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Near(Typed):
    """A clip lead at the near end."""

    lead: NearLead


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys(Typed):
    """Keys pressed one after another; a `,` among them is a pause of a second.

    What is None is as the scenario's keypad says.
    """

    digits: str
    on_us: int | None = None
    off_us: int | None = None
    level_dbm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait(Typed):
    """Let time pass."""

    duration_us: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Listen(Typed):
    """Let time pass with an ear on the pair."""

    duration_us: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Read(Typed):
    """Read the meter: a measuring cycle from its start to its end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Zero(Typed):
    """Short the meter's leads and take their resistance out of later readings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Typed):
    """Write a line in the logbook."""

    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Log(Typed):
    """Write the reading on the display into the logbook."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Say(Typed):
    """Answer what is wrong with the pair; without an answer, take back what was said before."""

    answer: Answer | None


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFault(Typed):
    """The trainer puts a fault into the unit, or takes it out."""

    fault: Fault
    on: bool


Step = (
    UnitWake
    | UnitOff
    | UnitUnclip
    | UnitClip
    | UnitBattery
    | UnitFault
    | Lift
    | Restore
    | MeterOn
    | MeterOff
    | Near
    | Keys
    | Wait
    | Listen
    | Read
    | Zero
    | Note
    | Log
    | Say
    | Go
    | Look
    | Bond
    | OpenJoint
    | Join
    | Repair
    | Clip
    | Probe
    | Pinch
    | Tie
    | Untie
)
