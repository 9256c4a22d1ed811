"""What circuits are made of. Each part stamps itself; no solver knows a kind.

A part gives conductances, capacitances and DC currents between named nodes; its admittance at a
frequency is G + jwC unless it knows better (a section is an exact two-port, a coupling capacitor
has no reactance at voice frequencies). One description serves both solvers: `exact` is for
line_model/network.py, `lumped` for line_model/transient.py.
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

Complex = NDArray[np.complex128]
Real = NDArray[np.float64]


class Element(NamedTuple):
    """A conductance [S], capacitance [F] or DC current from a to b [A] between two nodes."""

    what: Literal["siemens", "farad", "amp"]
    a: str
    b: str
    value: float


class Branch(NamedTuple):
    """An admittance between two nodes [S], one value a frequency."""

    a: str
    b: str
    siemens: Complex


class Alternating(NamedTuple):
    """A steady alternating current out of b into a [A rms], as a phasor."""

    hz: float
    a: str
    b: str
    amp: complex


class Block(NamedTuple):
    """Admittances between each two of some nodes [S], shape (frequencies, nodes, nodes)."""

    nodes: tuple[str, ...]
    siemens: Complex
    """Symmetric; nothing on the diagonal."""


@dataclass(frozen=True, slots=True)
class Part(ABC):
    """Anything that can stand in a circuit."""

    @abstractmethod
    def lumped(self) -> Iterator[Element]:
        """The part as lumped elements in time."""

    def drive(self) -> Iterator[Element]:
        """Its DC currents alone."""
        return (element for element in self.lumped() if element.what == "amp")

    def alternating(self) -> Iterator[Alternating]:
        """Its alternating currents: of hum, of ringing."""
        return iter(())

    def exact(self, hz: Real) -> Iterator[Branch | Block]:
        """The part's branches at each frequency; 0 Hz is its steady state."""
        omega = 2j * np.pi * hz
        for what, a, b, value in self.lumped():
            if what == "siemens":
                yield Branch(a, b, np.full(hz.shape, value, dtype=complex))
            elif what == "farad":
                yield Branch(a, b, (omega * value).astype(complex))


def nodes_of(parts: Iterable[Part]) -> set[str]:
    """The nodes that some parts are joined to."""
    return {node for part in parts for e in part.lumped() for node in (e.a, e.b)}


@dataclass(frozen=True, slots=True)
class Resistor(Part):
    a: str
    b: str
    ohm: float

    def lumped(self) -> Iterator[Element]:
        yield Element("siemens", self.a, self.b, 1.0 / self.ohm)


@dataclass(frozen=True, slots=True)
class Capacitor(Part):
    a: str
    b: str
    farad: float

    def lumped(self) -> Iterator[Element]:
        yield Element("farad", self.a, self.b, self.farad)


@dataclass(frozen=True, slots=True)
class SeriesRC(Part):
    """A resistance from a to a node of its own, and a capacitance from there to b."""

    a: str
    b: str
    ohm: float
    farad: float
    name: str

    def lumped(self) -> Iterator[Element]:
        middle = f"{self.name}.middle"
        yield Element("siemens", self.a, middle, 1.0 / self.ohm)
        yield Element("farad", middle, self.b, self.farad)

    def exact(self, hz: Real) -> Iterator[Branch]:
        omega = 2 * np.pi * hz
        admittance = 1j * omega * self.farad / (1 + 1j * omega * self.farad * self.ohm)
        yield Branch(self.a, self.b, admittance.astype(complex))


@dataclass(frozen=True, slots=True)
class Coupled(SeriesRC):
    """A resistance behind a blocking capacitor that has no reactance at voice frequencies."""

    def exact(self, hz: Real) -> Iterator[Branch]:
        yield Branch(self.a, self.b, np.where(hz > 0, 1.0 / self.ohm, 0.0).astype(complex))


@dataclass(frozen=True, slots=True)
class Source(Part):
    """A DC source behind a resistance: `volt` makes a plus against b."""

    a: str
    b: str
    volt: float
    ohm: float

    def lumped(self) -> Iterator[Element]:
        yield Element("siemens", self.a, self.b, 1.0 / self.ohm)
        yield Element("amp", self.b, self.a, self.volt / self.ohm)


@dataclass(frozen=True, slots=True)
class Knee(Part):
    """A path that is absent below a voltage and conducts the excess above it.

    Piecewise linear: with v = V(a) - V(b) - emf, the current is 0 while |v| < knee, else
    (v - knee) / ohm of its sign. `conducts` says on which piece it is: -1, 0 or +1; which piece
    is the right one is for line_model/knees.py to find.
    """

    a: str
    b: str
    ohm: float
    knee_volt: float
    emf_volt: float = 0.0
    conducts: int = 0

    def lumped(self) -> Iterator[Element]:
        # no conductance on the middle piece, but the nodes are named all the same
        on = abs(self.conducts) / self.ohm
        yield Element("siemens", self.a, self.b, on)
        yield Element("amp", self.b, self.a, on * (self.emf_volt + self.conducts * self.knee_volt))
