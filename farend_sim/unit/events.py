"""What can happen to the unit. A wrong digit is an event like any other."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DigitHeard:
    """The receiver took a whole key."""

    digit: str


@dataclass(frozen=True, slots=True)
class ButtonPressed:
    """A short press at the far end."""


@dataclass(frozen=True, slots=True)
class SwitchedOff:
    """A long press at the far end: the unit goes asleep."""


@dataclass(frozen=True, slots=True)
class PowerLost:
    """The battery is out or empty."""


@dataclass(frozen=True, slots=True)
class PowerBack:
    """The battery is in again."""


Event = DigitHeard | ButtonPressed | SwitchedOff | PowerLost | PowerBack
