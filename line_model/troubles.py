"""What can be wrong with the plant: each kind is data that stamps itself.

To add a kind: one class here, one word in `Trouble`. A trouble says at which places nodes must
stand (`spots_m`), what it does at its place (`stamp`), and what leakage it spreads along a
stretch (`leak_along`). `tip` and `ring` are positions in the cable at that place.
"""

from dataclasses import dataclass
from typing import Annotated, Literal, Protocol

from annotated_types import Ge, Gt, Le

from line_model.parts import Knee, Part, Resistor, Source
from line_model.plant import Above0, AtLeast0

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Leak(AtPlace):
    """Resistance between two conductors; a short is a small one.

    `emf_volt` is galvanic, plus at the first of `between`. Below `breakdown_volt` across it the
    leak is absent; above, it conducts the excess through `ohm` (piecewise linear).
    """

    kind: Literal["leak"]
    between: tuple[Conductor, Conductor]
    ohm: Annotated[float, Ge(1e-3)]
    emf_volt: float | None = None
    breakdown_volt: Above0 | None = None

    def stamp(self, walk: Walk) -> None:
        a, b = (walk.front[conductor] for conductor in self.between)
        emf_volt = self.emf_volt or 0.0
        if self.breakdown_volt is None:
            walk.add(Source(a, b, emf_volt, self.ohm))
        else:
            walk.add(Knee(a, b, self.ohm, self.breakdown_volt, emf_volt))


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Battery(AtPlace):
    """A cross to a source of `volt` behind `ohm`, which returns to the sheath at its place."""

    kind: Literal["battery"]
    conductor: Leg
    volt: float
    ohm: Annotated[float, Ge(1e-3)]

    def stamp(self, walk: Walk) -> None:
        walk.add(Source(walk.front[self.conductor], walk.front["sheath"], self.volt, self.ohm))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reversal(AtPlace):
    """Tip and ring change places here."""

    kind: Literal["reversal"]

    def stamp(self, walk: Walk) -> None:
        front = walk.front
        front["tip"], front["ring"] = front["ring"], front["tip"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wet:
    """Leakage spread evenly over a stretch: `ohm_km` over 60 m is `ohm_km` / 0.06 ohm."""

    kind: Literal["wet"]
    between: tuple[Conductor, Conductor]
    from_m: AtLeast0
    to_m: AtLeast0
    ohm_km: Annotated[float, Gt(0)]

    @property
    def spots_m(self) -> tuple[float, ...]:
        return (self.from_m, self.to_m)

    def leak_along(self, at_m: float) -> tuple[str, str, float] | None:
        """Leakage at a place of a stretch: two conductors and siemens a metre."""
        if not self.from_m < at_m < self.to_m:
            return None
        a, b = self.between
        return a, b, 1.0 / (self.ohm_km * 1000.0)

    def stamp(self, walk: Walk) -> None:
        """Nothing stands at its ends but the nodes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Harmonic:
    """A multiple of the induced frequency."""

    order: Annotated[int, Ge(2), Le(30)]
    percent: Annotated[float, Gt(0), Le(100)]
    """Of the fundamental."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Induction:
    """Longitudinal voltage along both legs alike, evenly from end to end, net of shielding.

    It drives nothing at 0 Hz; line_model/induction.py puts it on the legs.
    """

    kind: Literal["induction"]
    rms_volt: Above0
    hz: Annotated[float, Ge(10), Le(400)] = 60.0
    harmonics: tuple[Harmonic, ...] = ()

    @property
    def spots_m(self) -> tuple[float, ...]:
        return ()

    def leak_along(self, at_m: float) -> tuple[str, str, float] | None:
        """Nothing leaks."""
        return None

    def stamp(self, walk: Walk) -> None:
        """Nothing stands at a place."""

    def components(self) -> tuple[tuple[float, float], ...]:
        """Each frequency and its rms voltage from end to end [Hz, V]."""
        parts = [(self.hz * h.order, self.rms_volt * h.percent / 100) for h in self.harmonics]
        return ((self.hz, self.rms_volt), *parts)


Trouble = Leak | Series | Battery | Wet | Reversal | Induction
