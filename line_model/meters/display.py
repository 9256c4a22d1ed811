"""What a display of digits shows: a number, `over`, or the two ends between which it wanders."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor, isfinite, log10

OVER_RANGE = "over"
"""What a display says that has no range left."""
OVER = 1.1
"""A range reads a little past its full scale: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Scale:
    """One range of a display."""

    full: float
    step: float

    def over(self, value: float) -> bool:
        return not isfinite(value) or abs(value) > self.full * OVER

    def digits(self, value: float) -> str:
        """The value rounded to the display's step."""
        if self.over(value):
            return OVER_RANGE
        places = max(0, -floor(log10(self.step) + 1e-9))
        text = f"{round(value / self.step) * self.step:.{places}f}"
        return text.lstrip("-") if float(text) == 0 else text

    def shown(self, looks: Sequence[float], value: float, accuracy: float) -> str:
        """What is seen of several looks: one number if they agree within the accuracy."""
        if all(self.over(look) for look in looks):
            return OVER_RANGE
        low, high = min(looks), max(looks)
        if high - low <= accuracy:
            return self.digits(value)
        return f"{self.digits(low)} .. {self.digits(high)}"
