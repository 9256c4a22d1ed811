"""Resistance that moves with time: a leak that dries, or one that water gets into.

Law: the ohms are a function of time alone, even in their logarithm from the start to the end, and
then they stay. Between two steps nothing changes, so a circuit is frozen as between other events.
"""

from dataclasses import dataclass
from math import ceil, log
from typing import Annotated

from annotated_types import Ge, Le

STEP = 0.02
"""Each step is this part of the resistance: half of it either way is under any meter's accuracy.
A choice, no source."""
FASTEST_S = 0.2
"""From step to step, at the fastest: as for what comes and goes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift:
    """Where the resistance goes, and how long it takes."""

    to_ohm: Annotated[float, Ge(1e-3)]
    over_s: Annotated[float, Ge(1), Le(86400)]

    def ohm(self, from_ohm: float, now_us: int) -> float:
        """The resistance at a moment [ohm]."""
        steps = self._steps(from_ohm)
        done = min(steps, now_us * steps // self._over_us)
        return float(from_ohm * (self.to_ohm / from_ohm) ** (done / steps))

    def changes_us(self, from_ohm: float, now_us: int) -> int | None:
        """When the next step is due, after a moment [us]; None once it has arrived."""
        steps = self._steps(from_ohm)
        done = now_us * steps // self._over_us
        return None if done >= steps else -(-(done + 1) * self._over_us // steps)

    @property
    def _over_us(self) -> int:
        return round(self.over_s * 1e6)

    def _steps(self, from_ohm: float) -> int:
        wanted = ceil(abs(log(self.to_ohm / from_ohm)) / STEP)
        return max(1, min(wanted, int(self.over_s / FASTEST_S)))
