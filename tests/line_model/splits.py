"""A split with a neighbour, and a route with what its neighbours' ends are joined to, for tests."""

from line_model.parts import Part
from line_model.route import Route
from line_model.troubles import Leg, Split


def split(from_m: float, to_m: float | None, conductor: Leg = "ring", to: str = "a") -> Split:
    return Split(kind="split", conductor=conductor, from_m=from_m, to_m=to_m, neighbour=to)


def joined(way: Route) -> tuple[Part, ...]:
    """The route with what its neighbours' ends are joined to."""
    return (*way.parts, *(part for one in way.neighbours for part in one.parts()))
