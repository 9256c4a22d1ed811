"""What every trouble can be asked, and where a walk along the route stands when it asks.

A trouble says at which places nodes must stand (`spots_m`), what it does at its place (`stamp`),
and what leakage it spreads along a stretch (`leak_along`). `tip` and `ring` are positions in the
cable at that place.
"""

from dataclasses import dataclass
from typing import Literal, Protocol

from line_model.parts import Part
from line_model.plant import AtLeast0

Leg = Literal["tip", "ring"]
Conductor = Literal["tip", "ring", "sheath"]


class Walk(Protocol):
    """The place on the route that a trouble stands at, near to far."""

    front: dict[str, str]
    """The node that each conductor has reached."""

    def add(self, part: Part) -> None:
        """Put a part into the circuit."""

    def fresh(self, conductor: str) -> str:
        """Let a conductor go on from a new node, and name that node."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPlace:
    """A trouble at one place."""

    at_m: AtLeast0

    @property
    def spots_m(self) -> tuple[float, ...]:
        return (self.at_m,)

    def leak_along(self, at_m: float) -> tuple[str, str, float] | None:
        """Leakage at a place of a stretch: two conductors and siemens a metre."""
        return None

    def stamp(self, walk: Walk) -> None:
        """Put the trouble's parts in at its place."""
