"""What belongs to the plant and is not there, or is put in wrongly: earth bonds and load coils."""

from dataclasses import dataclass, replace
from typing import Annotated, Literal

from annotated_types import Ge

from line_model.joints import JOINT_OHM
from line_model.plant import Coil, Earth, Plant
from line_model.troubles.base import Base, Number, Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond(Base):
    """A bond from the sheath to true earth that has so many ohms more; without `ohm` it is open."""

    ABOUT = "the sheath's way to earth is bad"

    kind: Literal["bond"]
    earth: str
    """The name of the plant's earth."""
    ohm: Annotated[float, Ge(1e-3)] | None = None

    @property
    def looks(self) -> str:
        return "a poor earth bond"

    @property
    def numbers(self) -> tuple[Number, ...]:
        return () if self.ohm is None else ((self.ohm, "ohm"),)

    @property
    def read_ohm(self) -> float | None:
        return self.ohm

    def extent_m(self, plant: Plant) -> tuple[float, float] | None:
        at_m = next(earth.at_m for earth in plant.earth if earth.name == self.earth)
        return at_m, at_m

    def left_of(self, piece: Piece) -> Piece | None:
        """What it leaves of a piece of the plant."""
        if not isinstance(piece, Earth) or piece.name != self.earth:
            return piece
        return None if self.ohm is None else replace(piece, ohm=piece.ohm + self.ohm)


@dataclass(frozen=True, slots=True, kw_only=True)
class BadCoil(Base):
    """A load coil that was never put in, or with one winding turned about."""

    ABOUT = "a load coil is missing or turned"

    kind: Literal["coil"]
    coil: str
    """The name of the plant's coil."""
    wrong: Literal["missing", "reversed"] = "missing"

    @property
    def looks(self) -> str:
        return "a load coil wrong"

    def extent_m(self, plant: Plant) -> tuple[float, float] | None:
        at_m = next(coil.at_m for coil in plant.coils if coil.name == self.coil)
        return at_m, at_m

    def left_of(self, piece: Piece) -> Piece | None:
        """What it leaves of a piece of the plant."""
        if not isinstance(piece, Coil) or piece.name != self.coil:
            return piece
        if self.wrong == "reversed":
            return replace(piece, reversed=True)
        if self.when is None:
            return None
        return replace(piece, millihenry=0.0, ohm=2 * JOINT_OHM)  # its nodes stay meanwhile
