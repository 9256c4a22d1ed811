"""A conductor that does not go straight on: resistance in it, an open, a reversal."""

from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Ge

from line_model.parts import Resistor
from line_model.troubles.base import AtPlace, Conductor, Walk

JOINT_OHM = 1e-3
"""A joint that comes and goes, while it holds [ohm]: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Series(AtPlace):
    """Resistance in one conductor; without `ohm` the conductor is open."""

    kind: Literal["series"]
    conductor: Conductor
    ohm: Annotated[float, Ge(1e-3)] | None = None

    def stamp(self, walk: Walk) -> None:
        before = walk.front[self.conductor]
        after = walk.fresh(self.conductor)
        if self.ohm is not None:
            walk.add(Resistor(before, after, self.ohm))

    def away(self, walk: Walk) -> None:
        """A joint that holds, for now."""
        before = walk.front[self.conductor]
        walk.add(Resistor(before, walk.fresh(self.conductor), JOINT_OHM))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reversal(AtPlace):
    """Tip and ring change places here."""

    kind: Literal["reversal"]

    def stamp(self, walk: Walk) -> None:
        front = walk.front
        front["tip"], front["ring"] = front["ring"], front["tip"]
