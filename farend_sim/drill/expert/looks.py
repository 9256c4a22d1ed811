"""Readings as the expert has them: how each was taken, and what the display said.

Law: only what a trainee knows is in here. A `Setting` is what was done, a `Look` what came of it.
"""

from dataclasses import dataclass
from typing import get_args

from farend_sim.bench.pair.wiring import Lead
from farend_sim.unit.table import PairState

LEADS: tuple[Lead, ...] = get_args(Lead)
TWO_ENDS = ("tip-ring", "tip-sheath", "ring-sheath")
"""Between which terminals a meter with two leads is read; turned about they tell of sources."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How a reading is taken."""

    meter: str
    across: str
    """As steps have it: `tip-ring`, or a bridge's `bad=tip good=ring`."""
    state: PairState = "idle"
    """What the unit was told to be, and acknowledged."""
    lead: Lead = "clear"
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
    loop_ohm: float | None = None
    """What a bridge says of the loop that it balanced in."""

    @property
    def over(self) -> bool:
        return self.value is None

    @property
    def spread(self) -> float:
        """Half of what it wandered by."""
        return 0.0 if self.low is None or self.high is None else (self.high - self.low) / 2


def look_shown(setting: Setting, shown: str, value: float | None) -> Look:
    """A look at a display: what it shows is what a person knows, and no digit more."""
    if value is None:
        return Look(setting=setting, value=None)
    if ".." in shown:
        low, _, high = shown.partition("..")
        if _number(low) is None or _number(high) is None:
            return Look(setting=setting, value=value)
        return Look(setting=setting, value=value, low=_number(low), high=_number(high))
    number = _number(shown)
    return Look(setting=setting, value=value if number is None else number)


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None
