"""What every trouble can be asked, and where a walk along the route stands when it asks.

A trouble says at which places nodes must stand (`spots_m`), what it does at its place (`stamp`),
what it spreads along a stretch (`leak_along`, `swells_along`), and what it leaves of a piece of
the plant (`left_of`). `tip` and `ring` are positions in the cable at that place. A trouble may come
and go (`when`); what stands at its place meanwhile is for it to say too (`away`). It may be another
at another time (`as_of`, `moves_us`). And it says what people need to tell of it: what it is
(`ABOUT`), what it looks like (`looks`), on which conductors, from where to where and with which
numbers it is (`conductors`, `extent_m`, `numbers`, `read_ohm`).
"""

from dataclasses import dataclass
from typing import ClassVar, Protocol, Self, TypeVar

from line_model.parts import Part
from line_model.plant import AtLeast0, Coil, Earth, Plant
from line_model.troubles.swing import Swing

Piece = TypeVar("Piece", Earth, Coil)
"""What a plant has at a place and a trouble may spoil."""
Number = tuple[float, str]
"""A figure and what it is of: 40e3, ohm."""


class Walk(Protocol):
    """The place on the route that a trouble stands at, near to far."""

    front: dict[str, str]
    """The node that each conductor has reached."""

    def add(self, part: Part) -> None:
        """Put a part into the circuit."""

    def fresh(self, conductor: str) -> str:
        """Let a conductor go on from a new node, and name that node.

        A node that is one trouble's own, beside the way, is made so too, and `front` put back.
        """


@dataclass(frozen=True, slots=True, kw_only=True)
class Base:
    """What all troubles are, unless they know better."""

    ABOUT: ClassVar[str] = ""
    """What is wrong then, in a few words."""

    when: Swing | None = None
    """How it comes and goes; None: it stays."""

    @property
    def looks(self) -> str:
        """What it looks like to whoever has it before them; empty where it is at no place."""
        return ""

    @property
    def conductors(self) -> tuple[str, ...]:
        """What it is on, if not on all alike."""
        return ()

    @property
    def numbers(self) -> tuple[Number, ...]:
        """Its figures, each with its unit."""
        return ()

    @property
    def read_ohm(self) -> float | None:
        """Its resistance as a meter could find it [ohm]: an open is infinite; None: it has none."""
        return None

    def extent_m(self, plant: Plant) -> tuple[float, float] | None:
        """Where it begins and ends along its line [m]; None: it is everywhere alike."""
        return (min(self.spots_m), max(self.spots_m)) if self.spots_m else None

    @property
    def line(self) -> str | None:
        """The tap that it is on; None: the route itself."""
        return None

    @property
    def spots_m(self) -> tuple[float, ...]:
        """Where nodes must stand, along its line."""
        return ()

    @property
    def needs(self) -> tuple[str, ...]:
        """Neighbours that must be in the circuit for it."""
        return ()

    def leak_along(self, at_m: float) -> tuple[str, str, float] | None:
        """Leakage at a place of its line: two conductors and siemens a metre."""
        return None

    def swells_along(self, at_m: float) -> float:
        """By what part capacitance is more at a place of its line."""
        return 0.0

    def as_of(self, now_us: int) -> Self:
        """The trouble as it is at a moment."""
        return self

    def moves_us(self, now_us: int) -> int | None:
        """When it is next another, after a moment [us]; None: never again."""
        return None

    def left_of(self, piece: Piece) -> Piece | None:
        """What it leaves of a piece of the plant."""
        return piece

    def stamp(self, walk: Walk) -> None:
        """Put the trouble's parts in at its place."""

    def away(self, walk: Walk) -> None:
        """Put in what stands at its place while it is gone: as many new nodes as `stamp` makes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed(Base):
    """A trouble somewhere along the route or a tap."""

    on: str | None = None
    """The name of the tap that it is on, whose start its places are then counted from."""

    @property
    def line(self) -> str | None:
        """The tap that it is on; None: the route itself."""
        return self.on


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPlace(Placed):
    """A trouble at one place."""

    at_m: AtLeast0

    @property
    def spots_m(self) -> tuple[float, ...]:
        """Where nodes must stand, along its line."""
        return (self.at_m,)
