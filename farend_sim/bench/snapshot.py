"""What a view may show of the bench, frozen. `far` is for the trainer alone."""

from dataclasses import dataclass

from farend_sim.unit.contacts import Closed
from farend_sim.unit.table import State
from line_model.meters.meter import Reading, Stage


@dataclass(frozen=True, slots=True)
class Far:
    """The unit's inside: no technician at the near end can see it."""

    state: State
    closed: Closed
    deadline_us: int | None


@dataclass(frozen=True, slots=True)
class Snapshot:
    """The bench at a moment."""

    now_us: int
    meter: str | None
    across: str | None
    stage: Stage
    reading: Reading | None
    sending: bool
    far: Far
