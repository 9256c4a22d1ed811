"""Paths between conductors that should not be there: a leak, a cross to battery, a wet stretch."""

from dataclasses import dataclass, replace
from typing import Annotated, Literal, Self

from annotated_types import Ge, Le

from line_model.neighbours import leg_of
from line_model.parts import Knee, Source
from line_model.plant import Above0, AtLeast0, Volt
from line_model.terminals import Conductor, Leg
from line_model.troubles.base import AtPlace, Number, Placed, Walk
from line_model.troubles.drift import Drift

TOUCHING_OHM = 100.0
"""A leak below this looks like two conductors that touch [ohm]. Invented for the demo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak(AtPlace):
    """Resistance between two conductors; a short is a small one.

    Either may be a neighbour's leg, `NAME.tip` or `NAME.ring`: a cross to that pair.

    `emf_volt` is galvanic, plus at the first of `between`. Below `breakdown_volt` across it the
    leak is absent; above, it conducts the excess through `ohm` (piecewise linear).
    """

    ABOUT = "resistance between conductors"

    kind: Literal["leak"]
    between: tuple[str, str]
    ohm: Annotated[float, Ge(1e-3)]
    emf_volt: Volt | None = None
    breakdown_volt: Above0 | None = None
    drift: Drift | None = None
    """How `ohm` moves from the start on; None: it stays."""

    @property
    def looks(self) -> str:
        return "conductors touching" if self.ohm < TOUCHING_OHM else "damaged insulation"

    @property
    def conductors(self) -> tuple[str, ...]:
        return self.between

    @property
    def numbers(self) -> tuple[Number, ...]:
        own = ((self.emf_volt, "V of its own"), (self.breakdown_volt, "V breakdown"))
        return ((self.ohm, "ohm"), *((value, unit) for value, unit in own if value is not None))

    @property
    def read_ohm(self) -> float:
        return self.ohm

    def as_of(self, now_us: int) -> Self:
        """The leak with the ohms of a moment."""
        return replace(self, ohm=self.drift.ohm(self.ohm, now_us)) if self.drift else self

    def moves_us(self, now_us: int) -> int | None:
        """When its ohms next move, after a moment [us]."""
        return self.drift.changes_us(self.ohm, now_us) if self.drift else None

    @property
    def needs(self) -> tuple[str, ...]:
        """The neighbours whose legs it joins."""
        legs = map(leg_of, self.between)
        return tuple(name for name, _ in filter(None, legs))

    def stamp(self, walk: Walk) -> None:
        a, b = (walk.front[conductor] for conductor in self.between)
        emf_volt = self.emf_volt or 0.0
        if self.breakdown_volt is None:
            walk.add(Source(a, b, emf_volt, self.ohm))
        else:
            walk.add(Knee(a, b, self.ohm, self.breakdown_volt, emf_volt))


@dataclass(frozen=True, slots=True, kw_only=True)
class Battery(AtPlace):
    """A cross to a source of `volt` behind `ohm`, which returns to the sheath at its place."""

    ABOUT = "foreign volts on a leg"

    kind: Literal["battery"]
    conductor: Leg
    volt: Volt
    ohm: Annotated[float, Ge(1e-3)]

    @property
    def looks(self) -> str:
        return "a conductor touching another pair's"

    @property
    def conductors(self) -> tuple[str, ...]:
        return (self.conductor,)

    @property
    def numbers(self) -> tuple[Number, ...]:
        return (self.volt, "V"), (self.ohm, "ohm")

    @property
    def read_ohm(self) -> float:
        return self.ohm

    def stamp(self, walk: Walk) -> None:
        walk.add(Source(walk.front[self.conductor], walk.front["sheath"], self.volt, self.ohm))


@dataclass(frozen=True, slots=True, kw_only=True)
class Wet(Placed):
    """Leakage spread evenly over a stretch: `ohm_km` over 60 m is `ohm_km` / 0.06 ohm.

    Water also raises capacitance there, usually before resistance falls.
    """

    ABOUT = "leakage spread over a stretch"

    kind: Literal["wet"]
    between: tuple[Conductor, Conductor]
    from_m: AtLeast0
    to_m: AtLeast0
    ohm_km: Annotated[float, Ge(1e-3)]
    capacitance_percent: Annotated[AtLeast0, Le(500)] = 0.0
    """How much more capacitance there is where it is wet."""

    @property
    def looks(self) -> str:
        return "water in the cable"

    @property
    def conductors(self) -> tuple[str, ...]:
        return self.between

    @property
    def numbers(self) -> tuple[Number, ...]:
        return ((self.ohm_km, "ohm km"),)

    @property
    def read_ohm(self) -> float:
        return self.ohm_km / ((self.to_m - self.from_m) / 1e3)

    @property
    def spots_m(self) -> tuple[float, ...]:
        return (self.from_m, self.to_m)

    def leak_along(self, at_m: float) -> tuple[str, str, float] | None:
        """Leakage at a place of a stretch: two conductors and siemens a metre."""
        if not self.from_m < at_m < self.to_m:
            return None
        a, b = self.between
        return a, b, 1.0 / (self.ohm_km * 1000.0)

    def swells_along(self, at_m: float) -> float:
        """By what part capacitance is more at a place of its line."""
        return self.capacitance_percent / 100 if self.from_m < at_m < self.to_m else 0.0
