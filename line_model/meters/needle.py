"""A needle: how a moving coil with inertia and damping follows a current.

Law: y'' + 2 d w y' + w2 y = w2 u, exact for an input u that is constant over each slice; so its
only error is the slice's, which is short beside the needle's period.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import cos, exp, pi, sin, sqrt


@dataclass(frozen=True, slots=True)
class Needle:
    """A needle by its free period and its damping (below 1: it overshoots)."""

    period_s: float
    damping: float

    def follow(self, inputs: Iterable[float], slice_s: float) -> Iterator[float]:
        """Where it stands after each slice, from rest at nought.

        Args:
            inputs: where it would come to rest, slice by slice.
            slice_s: how long each lasts.
        """
        at, speed = 0.0, 0.0
        free = 2 * pi / self.period_s
        turn = free * sqrt(1 - self.damping**2)
        fade = exp(-self.damping * free * slice_s)
        c, s = fade * cos(turn * slice_s), fade * sin(turn * slice_s)
        for rest in inputs:
            off = at - rest
            lean = (speed + self.damping * free * off) / turn
            speed = c * (lean * turn - self.damping * free * off) - s * (
                off * turn + self.damping * free * lean
            )
            at = rest + c * off + s * lean
            yield at
