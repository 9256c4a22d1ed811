"""Where instruments are joined: the nodes that a person at the pair calls tip, ring and sheath."""

from dataclasses import dataclass
from typing import Literal, get_args

Leg = Literal["tip", "ring"]
Conductor = Literal["tip", "ring", "sheath"]
CONDUCTORS: tuple[Conductor, ...] = get_args(Conductor)
Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Terminals:
    """Three terminals of one pair, as nodes of the circuit."""

    tip: str = "tip"
    ring: str = "ring"
    sheath: str = "sheath"

    @property
    def pair(self) -> Pair:
        """Both legs."""
        return self.tip, self.ring

    def node(self, name: str) -> str:
        """The node that a name means here; any other name is a node of its own."""
        return {"tip": self.tip, "ring": self.ring, "sheath": self.sheath}.get(name, name)


NEAR = Terminals()
"""The near end of the pair, where a technician stands to begin with."""
