"""From the plant as written to a circuit: a walk along the route, near to far.

Nodes stand only at joints, taps, troubles and ends. At one place: tap first, then the joint that
can be opened, then troubles in file order. The near end's nodes are `tip`, `ring`, `sheath`; the
far end's are in `Route.far`. True earth is reached only through the two electrodes.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import ceil, sqrt

from line_model.cable import PerMetre, per_metre
from line_model.joints import STRAIGHT, Joins, Joint
from line_model.parts import Part, Resistor
from line_model.plant import Plant, Stretch
from line_model.section import CONDUCTORS, Stretch3
from line_model.terminals import Terminals
from line_model.troubles import Trouble

NEAR = CONDUCTORS
EARTH = "earth"
SHORTEST_US = 500
"""The shortest time after a switch at which a reading is asked for [us]."""
LUMP_ERROR = 5e-5
"""A lump's error at that time: doubling the lumps then moves a reading under 0.1 % (tested)."""


@dataclass(frozen=True, slots=True)
class Route:
    """The plant as parts, and the nodes of its far end: tip, ring, sheath."""

    parts: tuple[Part, ...]
    far: tuple[str, str, str]
    main: tuple[Stretch3, ...]
    """The stretches from end to end, taps left out."""
    joints: tuple[Joint, ...] = ()
    """The joints that can be opened, near to far; in `parts` they are joined straight."""
    cable: tuple[Part, ...] = ()
    """`parts` without what those joints hold together."""

    def joined(self, joins: Mapping[str, Joins]) -> "Route":
        """The same route with some of its joints joined otherwise, by their names."""
        held = (joint.parts(joins.get(joint.name, STRAIGHT)) for joint in self.joints)
        return replace(self, parts=(*self.cable, *(part for parts in held for part in parts)))


@lru_cache(maxsize=64)
def route(plant: Plant, troubles: tuple[Trouble, ...], seed: int, fineness: int = 1) -> Route:
    """Walk the plant near to far and return it as parts.

    Args:
        plant: sections, taps and earths.
        troubles: in file order.
        seed: fixes the signs of the unbalances.
        fineness: multiplies the number of lumps in time (for tests of that number).
    """
    walk = _Walk(plant, troubles, seed, fineness)
    start_m = 0.0
    walk.stand_at(0.0)
    for i, section in enumerate(plant.section):
        end_m = start_m + section.length_m
        for left_m, right_m in pairwise([start_m, *walk.spots_between(start_m, end_m), end_m]):
            walk.go(section, f"section {section.name or i}", left_m, right_m)
            walk.stand_at(right_m)
        start_m = end_m
    return walk.arrive()


def lumps(per: PerMetre, length_m: float) -> int:
    """How many lumps a stretch needs in time.

    Diffusion over a lump of length h is wrong by about r c h^2 / (12 t) at a time t after a
    switch; h is chosen so that this is LUMP_ERROR at SHORTEST_US. No search at run time.
    """
    farad = per.tip_ring_farad + max(per.tip_sheath_farad, per.ring_sheath_farad)
    worst = (per.tip_ohm + per.ring_ohm) * farad
    return max(1, ceil(length_m * sqrt(worst / (12 * LUMP_ERROR * SHORTEST_US * 1e-6))))


class _Walk:
    """Where the walk has come to; the troubles' `Walk`."""

    def __init__(
        self, plant: Plant, troubles: tuple[Trouble, ...], seed: int, fineness: int
    ) -> None:
        self.front: dict[str, str] = {conductor: conductor for conductor in CONDUCTORS}
        self._parts: list[Part] = []
        self._main: list[Stretch3] = []
        self._count = 0
        self._plant, self._troubles, self._seed, self._fineness = plant, troubles, seed, fineness
        self._joints: list[Joint] = []
        places = [tap.at_m for tap in plant.tap] + [access.at_m for access in plant.access]
        self._spots = sorted({*places, *(m for trouble in troubles for m in trouble.spots_m)})

    def add(self, part: Part) -> None:
        """Put a part into the circuit."""
        self._parts.append(part)

    def fresh(self, conductor: str) -> str:
        """Let a conductor go on from a new node, and name that node."""
        self._count += 1
        self.front[conductor] = f"{conductor[0]}{self._count}"
        return self.front[conductor]

    def spots_between(self, start_m: float, end_m: float) -> list[float]:
        return [m for m in self._spots if start_m < m < end_m]

    def stand_at(self, at_m: float) -> None:
        """Put in what stands at a place: taps, a joint that opens, troubles in file order."""
        for i, tap in enumerate(self._plant.tap):
            if tap.at_m == at_m:
                main = dict(self.front)
                self.add(self._laid(tap, f"tap {tap.name or i}", tap.length_m, ()))
                self.front = main
        for access in self._plant.access:
            if access.at_m == at_m:
                self._part(access.name, at_m)
        for trouble in self._troubles:
            if at_m in trouble.spots_m:
                trouble.stamp(self)

    def _part(self, name: str, at_m: float) -> None:
        """Let both legs go on from nodes of their own; the sheath goes through."""
        near = Terminals(*self._triple())
        for leg in ("tip", "ring"):
            self.fresh(leg)
        self._joints.append(Joint(name, at_m, near, Terminals(*self._triple())))

    def go(self, section: Stretch, label: str, left_m: float, right_m: float) -> None:
        """Lay the cable between two places, with the leakage that is spread there."""
        middle_m = (left_m + right_m) / 2
        leaks = tuple(
            leak for trouble in self._troubles if (leak := trouble.leak_along(middle_m)) is not None
        )
        stretch = self._laid(section, label, right_m - left_m, leaks)
        self._main.append(stretch)
        self.add(stretch)

    def _laid(
        self,
        stretch: Stretch,
        label: str,
        length_m: float,
        leaks: tuple[tuple[str, str, float], ...],
    ) -> Stretch3:
        per = per_metre(stretch, self._plant.temperature_c, self._seed, label)
        near = self._triple()
        for conductor in CONDUCTORS:
            self.fresh(conductor)
        count = self._fineness * lumps(per, length_m)
        return Stretch3(near, self._triple(), per, length_m, count, leaks)

    def _triple(self) -> tuple[str, str, str]:
        return self.front["tip"], self.front["ring"], self.front["sheath"]

    def arrive(self) -> Route:
        """Join both sheath ends to their electrodes, and name the far end."""
        far = self._triple()
        self.add(Resistor("sheath", EARTH, self._plant.near_earth_ohm))
        self.add(Resistor(EARTH, far[2], self._plant.far_earth_ohm))
        cable = tuple(self._parts)
        return Route(cable, far, tuple(self._main), tuple(self._joints), cable).joined({})
