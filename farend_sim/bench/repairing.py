"""What a repair at a place reaches, and what whoever does it sees there.

Law: it takes away what is within reach, whether or not anybody looked for it, and nothing else. A
trouble along a stretch is reached where the place lies in it: the stretch is made good whole.
"""

from collections.abc import Iterable, Sequence

from line_model.plant import Plant
from line_model.troubles import BadCoil, Bond, Leak, Series, Trouble

DIG_REACH_M = 5.0
"""A dig lays so much cable bare to either side of its place [m]. Invented for the demo."""
JOINT_REACH_M = 0.5
"""A joint is opened at its own place: the closure's own length [m]. Invented for the demo."""
NOTHING = "nothing found amiss; closed again"
SEEN = {
    "leak": "damaged insulation",
    "series": "a corroded splice",
    "battery": "a conductor touching another pair's",
    "wet": "water in the cable",
    "reversal": "legs exchanged",
    "split": "a leg joined to a neighbour pair's",
    "bond": "a poor earth bond",
    "coil": "a load coil wrong",
}
"""What a kind of trouble looks like to whoever has it before them."""
_TOUCHING_OHM = 100.0
"""A leak below this is two conductors that touch [ohm]. Invented for the demo."""


def reached(
    plant: Plant, troubles: Iterable[Trouble], from_m: float, to_m: float
) -> tuple[Trouble, ...]:
    """The troubles of which something lies within a stretch of the route."""
    return tuple(
        each
        for each in troubles
        if (extent := _extent(plant, each)) is not None
        and extent[0] <= to_m
        and from_m <= extent[1]
    )


def found(troubles: Sequence[Trouble]) -> str:
    """What is found and made good, in a technician's words."""
    seen = dict.fromkeys(_seen(each) for each in troubles)
    return " and ".join(seen) + " found, made good" if seen else NOTHING


def _extent(plant: Plant, trouble: Trouble) -> tuple[float, float] | None:
    """Where a trouble begins and ends along the route [m]; None where it has no place there."""
    if isinstance(trouble, Bond):
        at_m = next(earth.at_m for earth in plant.earth if earth.name == trouble.earth)
        return at_m, at_m
    if isinstance(trouble, BadCoil):
        at_m = next(coil.at_m for coil in plant.coil if coil.name == trouble.coil)
        return at_m, at_m
    if trouble.line is not None or not trouble.spots_m:
        return None
    return min(trouble.spots_m), max(trouble.spots_m)


def _seen(trouble: Trouble) -> str:
    if isinstance(trouble, Leak) and trouble.ohm < _TOUCHING_OHM:
        return "conductors touching"
    if isinstance(trouble, Series) and trouble.ohm is None:
        return "a missing sheath bond" if trouble.conductor == "sheath" else "a broken conductor"
    return SEEN[trouble.kind]
