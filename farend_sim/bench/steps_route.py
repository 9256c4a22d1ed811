"""The steps along the route: going, joints opened and joined by hand, repairs."""

from dataclasses import dataclass

from farend_sim.bench.step_typed import Typed
from line_model.joints import Leg, Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Go(Typed):
    """Go to another place along the route."""

    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Look(Typed):
    """Put the leads on one side of the opened joint at hand."""

    side: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond(Typed):
    """Bond across the sheath of the joint at hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenJoint(Typed):
    """Open both legs of the joint at hand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Join(Typed):
    """Join a leg of the near side to one of the far side."""

    near: Leg
    far: Leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair(Typed):
    """Make good what is at a place, so many metres on from a named one.

    Without a name the metres are counted from the near end.
    """

    place: str | None
    by_m: float
