"""What meters read: the one small face that a circuit shows to instruments.

Law: a meter knows neither plant nor time nor bench; whatever stands between two nodes it asks here.
A spell on the bench has this face, and so has a pair at rest in a lab.
"""

from cmath import exp, pi
from dataclasses import dataclass
from typing import NamedTuple, Protocol


class Steady(NamedTuple):
    """A steady sine between two nodes: dial tone, hum, a sender's tone, the unit's own, talk."""

    what: str
    hz: float
    phasor_volt: complex
    """Rms, as a phasor."""
    start_us: int = 0
    """Where its phase is zero."""
    share: float = 1.0
    """In what part of the time that was asked for it sounds."""

    @property
    def mean_square(self) -> float:
        """Over the time that was asked for [V2]."""
        return abs(self.phasor_volt) ** 2 * self.share

    def beside(self, hz: float, from_us: int, to_us: int) -> complex:
        """What a detector at another frequency takes it for, over a time: a phasor [V]."""
        turn = 2j * pi * (self.hz - hz) * 1e-6
        if abs(turn) * (to_us - from_us) < 1e-9:
            return self.phasor_volt
        first, last = (exp(turn * (at - self.start_us)) for at in (from_us, to_us))
        return self.phasor_volt * (last - first) / (turn * (to_us - from_us))


class AtRest(Protocol):
    """What stands between two nodes of a circuit for good."""

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) when all has settled, alternating left out [V]; None between islands."""

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        """The sines that stand between two nodes."""

    def noise_volt(self, a: str, b: str) -> float:
        """White noise up to half the sampling rate, rms [V]."""

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        """What the circuit is between two nodes, sources at rest [ohm]; None if infinite."""


class Standing(AtRest, Protocol):
    """What stands between two nodes of a circuit that holds."""

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        """The mean of V(a) - V(b) over a time, alternating left out [V]; None between islands."""


@dataclass(frozen=True, slots=True)
class Resting:
    """A circuit once all has settled: every mean is where it ends."""

    of: AtRest

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        return self.of.settled(a, b)

    def settled(self, a: str, b: str) -> float | None:
        return self.of.settled(a, b)

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        return self.of.alternating(a, b, from_us, to_us)

    def noise_volt(self, a: str, b: str) -> float:
        return self.of.noise_volt(a, b)

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        return self.of.impedance(a, b, hz)
