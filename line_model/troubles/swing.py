"""Troubles that come and go: there or not is a function of (seed, which trouble, time) alone.

In each period a trouble is there once, for its share of it; where in the period is drawn from the
seed, the trouble's place in the file and the period's number, so that the next change is always
known and slicing time cannot move it.
"""

import hashlib
from dataclasses import dataclass
from typing import Annotated

from annotated_types import Ge, Gt, Le, Lt


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """The pattern: a bad splice in the wind, water that trucks pump, a nail that a step moves."""

    period_s: Annotated[float, Ge(0.2), Le(86400)]
    share: Annotated[float, Gt(0), Lt(1)] = 0.5
    """Of the time, there. The default is invented for the demo."""
    regular: bool = False
    """Always at the start of each period, instead of somewhere in it."""

    def span_us(self, seed: int, index: int, period: int) -> tuple[int, int]:
        """From when to when it is there in a period [us]."""
        length_us = round(self.period_s * 1e6)
        stays_us = min(max(1, round(length_us * self.share)), length_us - 1)
        late = 0.0 if self.regular else _uniform(seed, index, period)
        starts_us = period * length_us + int((length_us - stays_us) * late)
        return starts_us, starts_us + stays_us

    def there(self, seed: int, index: int, now_us: int) -> bool:
        """Whether the trouble is there at a moment."""
        start_us, end_us = self.span_us(seed, index, self._period(now_us))
        return start_us <= now_us < end_us

    def changes_us(self, seed: int, index: int, now_us: int) -> int:
        """When it next comes or goes, after a moment [us]."""
        period = self._period(now_us)
        while True:
            for at_us in self.span_us(seed, index, period):
                if at_us > now_us and self.there(seed, index, at_us - 1) != self.there(
                    seed, index, at_us
                ):
                    return at_us
            period += 1

    def _period(self, now_us: int) -> int:
        return now_us // round(self.period_s * 1e6)


def _uniform(seed: int, index: int, period: int) -> float:
    digest = hashlib.sha256(f"{seed}/swing/{index}/{period}".encode()).digest()
    return int.from_bytes(digest[:6], "big") / 2**48
