"""The frozen solution between two events: all that instruments read.

Meter, receiver and ear read only spells. A spell answers in time (`volt`, `mean`, closed form) and
at a frequency (`transfer_ohm`, steady phasors). Topologies are solved once and kept.
"""

from dataclasses import dataclass
from functools import lru_cache

from line_model.knees import in_time, moved_on, next_knee_s
from line_model.parts import Knee, Part, Real
from line_model.standing import Steady
from line_model.still import Still
from line_model.terminals import Pair
from line_model.transient import Capacitors, Modes

Parts = tuple[Part, ...]


class Topologies:
    """Solved topologies of one plant; the latest used are kept."""

    def __init__(self, reference: str, keep: int = 64) -> None:
        self.modes = lru_cache(keep)(lambda parts: Modes(parts, reference))
        """The topology in time."""
        self.still = lru_cache(keep)(Still)
        """The same at rest and at frequencies."""


@dataclass(frozen=True, slots=True)
class Spell:
    """One topology from one moment on."""

    wired: Parts
    """The circuit as it was wired."""
    parts: Parts
    """The same, each path with a knee on its piece."""
    start_us: int
    amplitude: Real
    solved: Topologies
    deadline_us: int | None
    """When a path reaches its knee and the spell is over of itself; None if never."""

    @classmethod
    def begin(
        cls,
        parts: Parts,
        start_us: int,
        capacitors: Capacitors,
        solved: Topologies,
        before: "Spell | None" = None,
    ) -> "Spell":
        """Start from the voltages that stand on the capacitors.

        Args:
            parts: the circuit as it is wired.
            start_us: the moment.
            capacitors: their voltages.
            solved: where topologies are kept.
            before: the spell that this one follows; of the same wiring, its knees move on from
                where they were.
        """
        if not any(isinstance(part, Knee) for part in parts):
            return cls(parts, parts, start_us, solved.modes(parts).start(capacitors), solved, None)
        guess = parts
        if before is not None and before.wired == parts:
            last = before
            guess = moved_on(last.parts, lambda a, b: last.volt(a, b, start_us))
        on_piece = in_time(guess, capacitors, solved.modes)
        modes = solved.modes(on_piece)
        amplitude = modes.start(capacitors)
        ends_s = next_knee_s(on_piece, modes, amplitude)
        ends_us = None if ends_s is None else start_us + max(1, round(ends_s * 1e6))
        return cls(parts, on_piece, start_us, amplitude, solved, ends_us)

    def volt(self, a: str, b: str, at_us: int) -> float | None:
        """V(a) - V(b) at a moment [V]; None between islands."""
        modes = self.solved.modes(self.parts)
        row = modes.row(a, b)
        if row is None:
            return None
        return float(row @ modes.after(self.amplitude, self._since_s(at_us)))

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        """The mean of V(a) - V(b) over a time [V]; None between islands."""
        modes = self.solved.modes(self.parts)
        row = modes.row(a, b)
        if row is None:
            return None
        span = self._since_s(from_us), self._since_s(to_us)
        return float(row @ modes.mean(self.amplitude, *span))

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) when all has settled [V]; None between islands."""
        modes = self.solved.modes(self.parts)
        row = modes.row(a, b)
        return None if row is None else float(row @ modes.settled())

    def capacitors(self, at_us: int) -> Capacitors:
        """The voltages that stand on the capacitors at a moment."""
        modes = self.solved.modes(self.parts)
        return modes.capacitors(modes.after(self.amplitude, self._since_s(at_us)))

    @property
    def still(self) -> Still:
        """The topology without time: what a frequency goes through, what hums."""
        return self.solved.still(self.parts)

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> dict[float, complex]:
        """Voltage across one pair of nodes for each ampere into another [V/A], 0 if none."""
        return self.still.transfer_ohm(into, across, hz)

    def hum_volt(self, across: Pair) -> dict[float, complex]:
        """What alternates across a pair of nodes by itself [V rms], by frequency."""
        return self.still.hum_volt(across)

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        """The sines that stand between two nodes by themselves."""
        return self.still.alternating(a, b, from_us, to_us)

    def noise_volt(self, a: str, b: str) -> float:
        """A circuit makes no noise of its own here; whoever has it brings it [V]."""
        return self.still.noise_volt(a, b)

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        """What the circuit is between two nodes at a frequency [ohm]; None if infinite."""
        return self.still.impedance(a, b, hz)

    def _since_s(self, at_us: int) -> float:
        return (at_us - self.start_us) * 1e-6
