"""One question to the hold lab, as a person asks it: names and numbers, nothing loaded yet."""

from dataclasses import dataclass

from farend_sim.unit.table import Function

PATIENCE, DIG_HOURS = 20, 4.0
"""Invented for the demo."""
_ACROSS: dict[str, str] = {
    "tip-ground": "tip-sheath",
    "ring-ground": "ring-sheath",
    "both-ground": "tip+ring-sheath",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What a hold is to be designed for: one of `meter`, `times` and `lognormal`."""

    meter: str | None = None
    times: str | None = None
    lognormal: tuple[float, float] | None = None
    """The median in seconds, and the spread of the logarithm."""
    between_log_sd: float = 0.0
    """How much of that spread lies between jobs."""
    plant: str | None = None
    """None: the usual one."""
    scheme: str = ""
    """In place of the plant's."""
    function: Function = "strap"
    across: str | None = None
    """Where a meter is clipped; None: as the function wants it."""
    command_s: float | None = None
    patience: int = PATIENCE
    """Misses in a row before a long hold is dialled."""
    dig_hours: float = DIG_HOURS
    """What a wrong place to dig costs."""

    @property
    def given(self) -> tuple[str, ...]:
        """Which of the three it is for."""
        three = {"meter": self.meter, "times": self.times, "lognormal": self.lognormal}
        return tuple(name for name, value in three.items() if value is not None)

    @property
    def dig_s(self) -> float:
        """The same in seconds [s]."""
        return 3600 * self.dig_hours

    @property
    def clipped(self) -> str:
        """Where the meter is clipped."""
        return self.across or usual_across(self.function)


def usual_across(function: Function) -> str:
    """Where a meter is clipped to read what a function puts on the pair."""
    return _ACROSS.get(function, "tip-ring")
