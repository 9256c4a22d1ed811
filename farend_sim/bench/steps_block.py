"""The steps at a block: posts, probe and pinch, and what a helper ties at the far end for it."""

from dataclasses import dataclass

from farend_sim.bench.step_typed import Typed
from line_model.joints import Leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Clip(Typed):
    """Clip the leads at the near end to a post of the block."""

    post: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe(Typed):
    """Hold the tone probe to a post: between its legs, or from one to the sheath."""

    post: int
    leg: Leg | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinch(Typed):
    """Press the legs at a post together, and hold the probe there meanwhile."""

    post: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie(Typed):
    """A helper ties both legs of a good neighbour to a leg of the pair, at the far end."""

    neighbour: str
    leg: Leg


@dataclass(frozen=True, slots=True, kw_only=True)
class Untie(Typed):
    """The helper takes that off."""
