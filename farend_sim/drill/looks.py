"""Readings as the expert has them: how each was taken, and what the display said.

Law: only what a trainee knows is in here. A `Setting` is what was done, a `Look` what came of it.
"""

from dataclasses import dataclass
from typing import Literal, get_args

from farend_sim.bench.line_report import STATES
from farend_sim.bench.steps import Across, NearLead

LEADS: tuple[NearLead, ...] = get_args(NearLead)
ACROSS: tuple[Across, ...] = get_args(Across)
State = Literal[
    "idle", "tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair"
]
assert get_args(State) == STATES


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How a reading is taken."""

    meter: str
    across: Across
    state: State = "idle"
    """What the unit was told to be, and acknowledged."""
    lead: NearLead = "clear"
    """The clip lead at the near end."""
    zeroed: bool = True
    """Whether the leads of an ohmmeter were taken off."""

    @property
    def words(self) -> str:
        """It in words, for people."""
        lead = "" if self.lead == "clear" else f", near end {_LEADS[self.lead]}"
        return f"{self.meter} {self.across}, unit {self.state}{lead}"


_LEADS = {"short": "shorted", "ground": "grounded", "loop": "looped"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What came of a reading. `value` is None over range."""

    setting: Setting
    value: float | None
    low: float | None = None
    """Where a display that wanders turned back; None where it stood."""
    high: float | None = None

    @property
    def over(self) -> bool:
        return self.value is None

    @property
    def wanders(self) -> bool:
        """Whether it is no reading, but two ends of one."""
        return self.low is not None and self.high is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """Whether a knock was answered: what the ear says of the pair."""

    heard: bool
