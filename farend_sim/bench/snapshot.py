"""What a view may show of the bench, frozen. `far` is for the trainer alone."""

from dataclasses import dataclass

from farend_sim.unit.contacts import Closed
from farend_sim.unit.table import State
from line_model.meters.cycle import Reading, Stage


@dataclass(frozen=True, slots=True)
class Far:
    """The unit's inside: no technician at the near end can see it."""

    state: State
    closed: Closed
    deadline_us: int | None
    """When its hold ends; None out of a hold."""
    attentive: bool = False
    """Whether a command would be listened to."""
    keyed: str = ""
    """The keys of a knock or a command that its decoder keeps."""


@dataclass(frozen=True, slots=True)
class ReceiverLevels:
    """What the line, as it is now, leaves of the keypad at the unit's receiver."""

    floor_dbm: float
    level_dbm: tuple[tuple[float, float | None], ...]
    """Each keypad tone [Hz] and its level; None with the unit off the pair."""
    hears: bool
    why: str | None
    """The receiver's own refusal."""


@dataclass(frozen=True, slots=True)
class Snapshot:
    """The bench at a moment."""

    now_us: int
    meter: str | None
    across: str | None
    stage: Stage
    reading: Reading | None
    far: Far
    stage_ends_us: int | None = None
    read_us: int | None = None
    """When the reading was made."""
    key: str | None = None
    """The key that sounds."""
    waiting: str = ""
    """Keys that have yet to sound."""
    lead: str = "clear"
    lifted: bool = False
    """Whether what is behind the near end is off the pair."""
    where: str = "near"
    """The place that the technician stands at."""
    looking: str | None = "far"
    """Which way the leads look; None over a joint that is joined."""

    stage_s: float = 0.0
    """How long the meter's stage lasts [s]."""
    stages: tuple[Stage, ...] = ()
    """The stages of its cycle, in their order."""
    live: str = ""
    """What its display shows in mid-cycle."""
    caution: str = ""
    """What a person must know of it."""

    @property
    def held(self) -> Reading | None:
        """What the display holds: a reading of the terminals that it is clipped to."""
        reading = self.reading
        return reading if reading is not None and reading.across == self.across else None
