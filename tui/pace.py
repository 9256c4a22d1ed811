"""Wall time into virtual time: the one place where a clock on the wall is read.

Law: the bench is told how much time to let pass, and never why; tests hand in a clock of their own.
"""

import time
from collections.abc import Callable

RATES = (1, 4, 20)
"""How many times as fast as a clock on the wall: live, faster, fastest."""
_AT_MOST_S = 0.5
"""A screen that was away for longer, stopped or asleep, has missed that time [s]. A choice,
no source."""


class Pace:
    """How fast time passes at the bench, and how much of it has passed since it was last asked."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._last_s = clock()
        self.paused = False
        self.rate = RATES[0]

    def take_us(self) -> int:
        """Return the virtual time since the last call [us]."""
        now_s = self._clock()
        passed_s = min(now_s - self._last_s, _AT_MOST_S)
        self._last_s = now_s
        return 0 if self.paused else round(passed_s * self.rate * 1e6)

    def pause(self) -> None:
        """Stop, or go on."""
        self.paused = not self.paused

    def faster(self) -> None:
        """Take the next rate, if there is one; time goes on."""
        self._change(1)

    def slower(self) -> None:
        """Take the rate before."""
        self._change(-1)

    def _change(self, by: int) -> None:
        at = RATES.index(self.rate) + by
        self.rate = RATES[max(0, min(at, len(RATES) - 1))]
        self.paused = False
