"""What a repair at a place reaches, and what whoever does it sees there.

Law: it takes away what is within reach, whether or not anybody looked for it, and nothing else. A
trouble along a stretch is reached where the place lies in it: the stretch is made good whole.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from line_model.plant import Access, Plant
from line_model.troubles import Trouble

DIG_REACH_M = 5.0
"""A dig lays so much cable bare to either side of its place [m]. Invented for the demo."""
JOINT_REACH_M = 0.5
"""A joint is opened at its own place: the closure's own length [m]. Invented for the demo."""
NOTHING = "nothing found amiss; closed again"


class OffRouteError(Exception):
    """No such place."""


@dataclass(frozen=True, slots=True)
class Target:
    """Where a repair is made: so far along a line, the route itself or a tap."""

    line: str | None
    at_m: float
    way_m: float
    """How far along the route whoever does it goes, the way along the tap included [m]."""
    joint: Access | None = None
    """The access point whose joint is opened for it; None: a dig."""


def target(plant: Plant, place_m: Mapping[str, float], name: str | None, by_m: float) -> Target:
    """The place that is meant by metres on from a named place, or from the near end.

    Args:
        plant: the truth; a repair is measured along the ground.
        place_m: the places of the route.
        name: one of them, a tap's name, or None.
        by_m: metres on.

    Raises:
        OffRouteError: no such name, or past an end.
    """
    tap = next((tap for tap in plant.tap if tap.name == name is not None), None)
    if tap is None and name is not None and name not in place_m:
        # taps are not told: there may be one that no record knows of
        raise OffRouteError(f"no place is named {name!r}; there are {', '.join(place_m)}")
    start_m = 0.0 if name is None or tap is not None else place_m[name]
    at_m, length_m = start_m + by_m, plant.length_m if tap is None else tap.length_m
    if not 0 <= at_m <= length_m:
        raise OffRouteError(f"{at_m:.9g} m is not on the {'tap' if tap else 'route'}")
    if tap is not None:
        return Target(tap.name, at_m, tap.at_m + at_m)
    joint = next((each for each in plant.access if by_m == 0 and each.name == name), None)
    return Target(None, at_m, at_m, joint)


def reached(plant: Plant, troubles: Iterable[Trouble], where: Target) -> tuple[Trouble, ...]:
    """The troubles of which something lies within reach."""
    reach_m = DIG_REACH_M if where.joint is None else JOINT_REACH_M
    low_m, high_m = where.at_m - reach_m, where.at_m + reach_m
    return tuple(
        each
        for each in troubles
        if each.line == where.line
        and (extent := each.extent_m(plant)) is not None
        and extent[0] <= high_m
        and low_m <= extent[1]
    )


def found(troubles: Sequence[Trouble]) -> str:
    """What is found and made good, in a technician's words."""
    seen = dict.fromkeys(each.looks for each in troubles)
    return " and ".join(seen) + " found, made good" if seen else NOTHING
