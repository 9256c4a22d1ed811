"""A split: one leg of the pair is a neighbour's over a stretch, and the neighbour's is the pair's.

At 0 Hz a split that is mended further on is perfect; it is found by what two legs that are not
twisted together lack in capacitance, and by what they hear of the neighbour.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import MinLen

from line_model.plant import AtLeast0, Plant
from line_model.terminals import Leg
from line_model.troubles.base import Base, Walk

UNNAMED = "neighbour"
"""Which pair it is split with where none is named: a quiet one that is on no post."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Split(Base):
    """A leg and the neighbour's leg of the same name change places, and again at `to_m`."""

    ABOUT = "one leg is another pair's"

    kind: Literal["split"]
    conductor: Leg
    from_m: AtLeast0
    to_m: AtLeast0 | None = None
    """None: to the far end."""
    neighbour: Annotated[str, MinLen(1)] = UNNAMED

    @property
    def looks(self) -> str:
        return "a leg joined to a neighbour pair's"

    @property
    def conductors(self) -> tuple[str, ...]:
        return (self.conductor,)

    def extent_m(self, plant: Plant) -> tuple[float, float]:
        return self.from_m, plant.length_m if self.to_m is None else self.to_m

    @property
    def spots_m(self) -> tuple[float, ...]:
        """Where the legs change places."""
        return (self.from_m,) if self.to_m is None else (self.from_m, self.to_m)

    @property
    def needs(self) -> tuple[str, ...]:
        """The neighbour whose leg it is."""
        return (self.neighbour,)

    def stamp(self, walk: Walk) -> None:
        front, other = walk.front, f"{self.neighbour}.{self.conductor}"
        front[self.conductor], front[other] = front[other], front[self.conductor]
