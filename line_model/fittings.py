"""What is fitted to a cable at a place, as parts of a circuit: earth bonds and load coils."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from line_model.parts import Alternating, Branch, Element, Part, Real, Source
from line_model.plant import Coil
from line_model.terminals import Pair


@dataclass(frozen=True, slots=True)
class Electrode(Source):
    """The way into the earth: `volt` and `ac_volt` make a plus, behind `ohm`, against b."""

    ac_volt: float = 0.0
    hz: float = 60.0

    def alternating(self) -> Iterator[Alternating]:
        """Currents that it drives besides its direct one."""
        if self.ac_volt:
            yield Alternating(self.hz, self.a, self.b, complex(self.ac_volt / self.ohm))


@dataclass(frozen=True, slots=True)
class LoadCoil(Part):
    """Two windings on one core, one in each leg.

    Each has l = henry / 4, and so has what they have in common: current round the loop meets all
    of `henry`, current along both legs alike meets none; the other way about with one winding
    turned. In time only its resistance is left: inductance is left out there.
    """

    near: Pair
    far: Pair
    coil: Coil

    def lumped(self) -> Iterator[Element]:
        for a, b in zip(self.near, self.far, strict=True):
            yield Element("siemens", a, b, 2 / self.coil.ohm)

    def exact(self, hz: Real) -> Iterator[Branch]:
        # i = Y v of both windings, with Y = Z^-1 and the common part m between them
        ohm, m = self.coil.ohm / 2, 2j * np.pi * hz * self.coil.millihenry * 1e-3 / 4
        own = (ohm + m) / (ohm * (ohm + 2 * m))
        mutual = m / (ohm * (ohm + 2 * m)) * (-1 if self.coil.reversed else 1)
        (tip, ring), (tip_on, ring_on) = self.near, self.far
        yield Branch(tip, tip_on, own)
        yield Branch(ring, ring_on, own)
        for a, b, siemens in (
            (tip, ring, -mutual),
            (tip_on, ring_on, -mutual),
            (tip, ring_on, mutual),
            (ring, tip_on, mutual),
        ):
            yield Branch(a, b, siemens)
