"""A joint that can be opened: two sides of nodes, and which leg is joined to which.

Law: an opened joint is the same circuit with fewer resistors. No node comes or goes, so charge
stays where it was. The sheath goes through unbroken: it is bonded across before it is opened.
"""

from dataclasses import dataclass
from typing import Literal

from line_model.parts import Part, Resistor
from line_model.terminals import Leg, Terminals

Side = Literal["near", "far"]
Joins = frozenset[tuple[Leg, Leg]]
"""Which legs are joined: the near side's, then the far side's."""

STRAIGHT: Joins = frozenset({("tip", "tip"), ("ring", "ring")})
OPENED: Joins = frozenset()
JOINT_OHM = 1e-3
"""A sound joint of one leg [ohm]: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Joint:
    """One access point's joint: its nodes toward the near end and toward the far end."""

    name: str
    near: Terminals
    far: Terminals

    def parts(self, joins: Joins) -> tuple[Part, ...]:
        """What holds the two sides together."""
        return tuple(
            Resistor(self.near.node(a), self.far.node(b), JOINT_OHM) for a, b in sorted(joins)
        )

    def side(self, side: Side) -> Terminals:
        """The nodes of a side."""
        return self.near if side == "near" else self.far
