"""Neighbour pairs in a circuit: which ones, where their ends are, and what is joined there.

Law: a neighbour is in a circuit because a trouble needs it or because somebody asks for it now;
pair by pair, never all at once. Its near end's nodes are `NAME.tip` and `NAME.ring`.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from line_model.equipment import NOTHING, Equipment
from line_model.parts import Part
from line_model.plant import Neighbour, Plant
from line_model.terminals import Terminals

_ENDS: dict[str, tuple[Equipment, Equipment]] = {
    "quiet": (Equipment(equipment="quiet"), Equipment(equipment="quiet")),
    "working": (Equipment(equipment="office"), Equipment(equipment="telephone")),
    "talking": (Equipment(equipment="office"), Equipment(equipment="telephone", hook="off")),
    "open": (NOTHING, NOTHING),
}
"""What a neighbour's near and far end are joined to."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A neighbour that is in the circuit, with the nodes of its ends."""

    pair: Neighbour
    near: Terminals
    far: Terminals

    @property
    def behind(self) -> Equipment:
        """What its near end is joined to."""
        return _ENDS[self.pair.state][0]

    def parts(self, lifted: bool = False) -> Iterator[Part]:
        """What is joined to its ends; at the near end nothing once that is lifted."""
        behind, beyond = _ENDS[self.pair.state]
        if not lifted:
            yield from behind.parts(self.near.tip, self.near.ring, self.near.sheath)
        yield from beyond.parts(self.far.tip, self.far.ring, self.far.sheath)


def named(plant: Plant, name: str) -> Neighbour:
    """A neighbour by its name: one that the plant says nothing of is quiet."""
    return next((one for one in plant.neighbour if one.name == name), Neighbour(name=name))


def leg_of(node: str) -> tuple[str, str] | None:
    """The neighbour and the leg that `NAME.tip` or `NAME.ring` means; None for other words."""
    name, _, leg = node.rpartition(".")
    return (name, leg) if name and leg in ("tip", "ring") else None


def in_order(*groups: Iterable[str]) -> tuple[str, ...]:
    """Names, each once, in the order they come."""
    return tuple(dict.fromkeys(name for group in groups for name in group))
