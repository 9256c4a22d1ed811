"""A conductor that does not go straight on: resistance in it, an open, a reversal."""

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Ge

from line_model.joints import JOINT_OHM
from line_model.parts import Resistor
from line_model.terminals import Conductor
from line_model.troubles.base import AtPlace, Number, Walk


@dataclass(frozen=True, slots=True, kw_only=True)
class Series(AtPlace):
    """Resistance in one conductor; without `ohm` the conductor is open."""

    ABOUT = "a joint with resistance"

    kind: Literal["series"]
    conductor: Conductor
    ohm: Annotated[float, Ge(1e-3)] | None = None

    @property
    def looks(self) -> str:
        if self.ohm is not None:
            return "a corroded splice"
        return "a missing sheath bond" if self.conductor == "sheath" else "a broken conductor"

    @property
    def conductors(self) -> tuple[str, ...]:
        return (self.conductor,)

    @property
    def numbers(self) -> tuple[Number, ...]:
        return ((self.read_ohm, "ohm"),)

    @property
    def read_ohm(self) -> float:
        return math.inf if self.ohm is None else self.ohm

    def stamp(self, walk: Walk) -> None:
        before = walk.front[self.conductor]
        after = walk.fresh(self.conductor)
        if self.ohm is not None:
            walk.add(Resistor(before, after, self.ohm))

    def away(self, walk: Walk) -> None:
        """While it is away the joint holds: a milliohm, with the nodes it always has."""
        before = walk.front[self.conductor]
        walk.add(Resistor(before, walk.fresh(self.conductor), JOINT_OHM))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reversal(AtPlace):
    """Tip and ring change places here."""

    ABOUT = "tip and ring exchanged"

    kind: Literal["reversal"]

    @property
    def looks(self) -> str:
        return "legs exchanged"

    def stamp(self, walk: Walk) -> None:
        front = walk.front
        front["tip"], front["ring"] = front["ring"], front["tip"]
