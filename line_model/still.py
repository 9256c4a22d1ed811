"""One circuit that holds, solved without time: at rest and at any frequency.

Law: it is solved as it is given, each path with a knee on its piece; each question is solved once.
"""

from functools import cache

import numpy as np

from line_model.network import Mesh
from line_model.parts import Part
from line_model.standing import Steady
from line_model.terminals import Pair

Phasors = dict[float, complex]
"""By frequency [Hz]."""


class Still:
    """What stands on a circuit at rest, and what goes through it at a frequency."""

    def __init__(self, parts: tuple[Part, ...], direct: Mesh | None = None) -> None:
        """Take a circuit, and what it is at 0 Hz if that is solved already."""
        self._parts, self._direct = parts, direct
        self._mesh = cache(lambda hz: Mesh(hz, parts))
        self._volt: dict[Pair, float | None] = {}
        self._ohm: dict[tuple[Pair, Pair, tuple[float, ...]], Phasors] = {}
        self._hum: dict[Pair, Phasors] = {}

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) [V]; None between islands."""
        if (a, b) not in self._volt:
            self._volt[a, b] = (self._direct or self._mesh((0.0,))).volt(a, b)
        return self._volt[a, b]

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> Phasors:
        """Voltage across one pair of nodes for each ampere into another [V/A], 0 if none."""
        asked = into, across, hz
        if (known := self._ohm.get(asked)) is None:
            values = self._mesh(hz).transfer_ohm(into, across)
            known = self._ohm[asked] = _by_hz(hz, values)
        return known

    def hum_volt(self, across: Pair) -> Phasors:
        """What alternates across a pair of nodes by itself [V rms]."""
        if (known := self._hum.get(across)) is None:
            known = self._hum[across] = self._driven(across)
        return known

    def _driven(self, across: Pair) -> Phasors:
        sources = [source for part in self._parts for source in part.alternating()]
        hz = tuple(dict.fromkeys(source.hz for source in sources))
        if not hz:
            return {}
        at = np.array(hz)
        currents = [(a, b, np.where(at == f, amp, 0j)) for f, a, b, amp in sources]
        return _by_hz(hz, self._mesh(hz).driven(currents, across))

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        """The sines that stand between two nodes by themselves."""
        return tuple(Steady("hum", hz, volt) for hz, volt in self.hum_volt((a, b)).items())

    def noise_volt(self, a: str, b: str) -> float:
        """A circuit makes no noise of its own here; whoever has it brings it [V]."""
        return 0.0

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        """What the circuit is between two nodes at a frequency [ohm]; None if infinite."""
        return self.transfer_ohm((a, b), (a, b), (hz,))[hz] or None


def _by_hz(hz: tuple[float, ...], values: list[complex | None]) -> Phasors:
    return {f: value or 0j for f, value in zip(hz, values, strict=True)}
