"""From the plant as written to a circuit: a walk along the route, near to far.

Nodes stand only at joints, taps, fittings, troubles and ends. At one place: tap first, then earth
bond, load coil and the joint that can be opened, then troubles in file order. The near end's nodes
are `tip`, `ring`, `sheath`; the far end's are in `Route.far`. True earth is reached only through
electrodes. A tap is walked as the route is, from its start. Neighbours that are needed or asked for
go along from end to end; they have no taps, no joints and no troubles but their own open leg.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from line_model.beside import beside
from line_model.cable import per_metre
from line_model.fittings import Electrode, LoadCoil
from line_model.induction import induced
from line_model.joints import STRAIGHT, Joins, Joint
from line_model.neighbours import Laid, in_order, named
from line_model.parts import Part
from line_model.plant import Coil, Neighbour, Plant, Stretch
from line_model.section import Conductors, lumps
from line_model.terminals import CONDUCTORS, Terminals
from line_model.troubles import Trouble
from line_model.troubles.base import Piece
from line_model.troubles.present import Away

Line = str | None
"""What is walked: a tap by its name, or the route itself."""
ROUTE: Line = None
EARTH = "earth"


@dataclass(frozen=True, slots=True)
class Route:
    """The plant as parts, and the nodes of its far end: tip, ring, sheath."""

    parts: tuple[Part, ...]
    far: tuple[str, str, str]
    main: tuple[Conductors, ...]
    """The stretches from end to end, taps left out."""
    joints: tuple[Joint, ...] = ()
    """The joints that can be opened, near to far; in `parts` they are joined straight."""
    cable: tuple[Part, ...] = ()
    """`parts` without what those joints hold together."""
    neighbours: tuple[Laid, ...] = ()
    """The neighbours that are in this circuit."""

    def neighbour(self, name: str) -> Laid | None:
        """A neighbour that is in this circuit, by its name."""
        return next((one for one in self.neighbours if one.pair.name == name), None)

    def joined(self, joins: Mapping[str, Joins]) -> "Route":
        """The same route with some of its joints joined otherwise, by their names."""
        held = (joint.parts(joins.get(joint.name, STRAIGHT)) for joint in self.joints)
        return replace(self, parts=(*self.cable, *(part for parts in held for part in parts)))


@lru_cache(maxsize=64)
def route(
    plant: Plant,
    troubles: tuple[Trouble | Away, ...],
    seed: int,
    fineness: int = 1,
    asked: tuple[str, ...] = (),
) -> Route:
    """Walk the plant near to far and return it as parts.

    Args:
        plant: sections, taps and earths.
        troubles: in file order.
        seed: fixes the signs of the unbalances.
        fineness: multiplies the number of lumps in time (for tests of that number).
        asked: neighbours to take in besides those that troubles need.
    """
    walk = _Walk(plant, troubles, seed, fineness, asked)
    walk.along(ROUTE, [(one, f"section {one.name or i}") for i, one in enumerate(plant.section)])
    return walk.arrive()


class _Walk:
    """Where the walk has come to; the troubles' `Walk`."""

    def __init__(
        self,
        plant: Plant,
        troubles: tuple[Trouble | Away, ...],
        seed: int,
        fineness: int,
        asked: tuple[str, ...],
    ) -> None:
        names = in_order(*(trouble.needs for trouble in troubles), asked)
        self._neighbours = tuple(named(plant, name) for name in names)
        legs = [f"{name}.{leg}" for name in names for leg in ("tip", "ring")]
        self.front: dict[str, str] = {conductor: conductor for conductor in (*CONDUCTORS, *legs)}
        self._parts: list[Part] = []
        self._main: list[Conductors] = []
        self._count, self._counts = 0, Counter[str]()
        self._plant, self._troubles, self._seed, self._fineness = plant, troubles, seed, fineness
        self._joints: list[Joint] = []

    def add(self, part: Part) -> None:
        """Put a part into the circuit."""
        self._parts.append(part)

    def fresh(self, conductor: str) -> str:
        """Let a conductor go on from a new node, and name that node.

        Neighbours count for themselves: the pair's nodes are the same with and without them.
        """
        if conductor in CONDUCTORS:
            self._count += 1
            self.front[conductor] = f"{conductor[0]}{self._count}"
        else:
            self._counts[conductor] += 1
            self.front[conductor] = f"{conductor}.{self._counts[conductor]}"
        return self.front[conductor]

    def along(self, line: Line, stretches: Sequence[tuple[Stretch, str]]) -> None:
        """Walk a line from its start: lay each stretch, and put in what stands on the way."""
        spots, start_m = self._spots(line), 0.0
        self._stand_at(line, 0.0)
        for stretch, label in stretches:
            end_m = start_m + stretch.length_m
            between = [m for m in spots if start_m < m < end_m]
            for left_m, right_m in pairwise([start_m, *between, end_m]):
                self._go(line, stretch, label, left_m, right_m)
                self._stand_at(line, right_m)
            start_m = end_m

    def _spots(self, line: Line) -> list[float]:
        """Where nodes must stand on a line."""
        plant = self._plant
        fitted = (plant.tap, plant.earth, plant.coils, plant.access) if line is ROUTE else ()
        places = {one.at_m for kind in fitted for one in kind}
        if line is ROUTE:
            # those of all neighbours, so that no node comes or goes with one that is asked for
            places |= {m for one in plant.neighbour if (m := one.open_at_m) is not None}
        return sorted({*places, *(m for one in self._on(line) for m in one.spots_m)})

    def _on(self, line: Line) -> Iterator[Trouble | Away]:
        return (trouble for trouble in self._troubles if trouble.line == line)

    def _stand_at(self, line: Line, at_m: float) -> None:
        """Put in what stands at a place: what belongs there, then troubles in file order."""
        if line is ROUTE:
            self._fit(at_m)
        for trouble in self._on(line):
            if at_m in trouble.spots_m:
                trouble.stamp(self)

    def _fit(self, at_m: float) -> None:
        """Put in what belongs to the plant at a place, as far as troubles have left it."""
        for i, tap in enumerate(self._plant.tap):
            if tap.at_m == at_m:
                main, name = dict(self.front), f"tap {tap.name or i}"
                self.along(tap.name or name, [(tap, name)])
                self.front = main
        for earth in self._plant.earth:
            if earth.at_m == at_m and (bond := self._left_of(earth)) is not None:
                self._electrode(self.front["sheath"], bond.ohm, bond.volt, bond.ac_volt)
        for coil in self._plant.coils:
            if coil.at_m == at_m and (good := self._left_of(coil)) is not None:
                near = self._triple()[:2]
                self.add(LoadCoil(near, (self.fresh("tip"), self.fresh("ring")), good))
            if coil.at_m == at_m:
                self._load_neighbours(coil)
        for one in self._neighbours:
            if one.open_at_m == at_m:
                self.fresh(f"{one.name}.{one.open_leg}")
        for access in self._plant.access:
            if access.at_m == at_m:
                self._part(access.name)

    def _load_neighbours(self, coil: Coil) -> None:
        """All pairs of a cable are loaded at one place; troubles are of the pair's own coil."""
        for one in self._neighbours:
            legs = f"{one.name}.tip", f"{one.name}.ring"
            near = self.front[legs[0]], self.front[legs[1]]
            self.add(LoadCoil(near, (self.fresh(legs[0]), self.fresh(legs[1])), coil))

    def _left_of(self, piece: Piece) -> Piece | None:
        left: Piece | None = piece
        for trouble in self._troubles:
            left = None if left is None else trouble.left_of(left)
        return left

    def _electrode(self, sheath: str, ohm: float, volt: float, ac_volt: float) -> None:
        """Bond the sheath to true earth there, which is `volt` against the near end's."""
        self.add(Electrode(sheath, EARTH, volt, ohm, ac_volt, self._plant.earth_hz))

    def _part(self, name: str) -> None:
        """Let both legs go on from nodes of their own; the sheath goes through."""
        near = Terminals(*self._triple())
        for leg in ("tip", "ring"):
            self.fresh(leg)
        self._joints.append(Joint(name, near, Terminals(*self._triple())))

    def _go(self, line: Line, stretch: Stretch, label: str, left_m: float, right_m: float) -> None:
        """Lay the cable between two places, with the leakage that is spread there."""
        middle_m = (left_m + right_m) / 2
        here = tuple(self._on(line))
        leaks = tuple(leak for each in here if (leak := each.leak_along(middle_m)) is not None)
        swollen = 1 + sum(each.swells_along(middle_m) for each in here)
        laid = self._laid(line, stretch, label, right_m - left_m, leaks, swollen)
        if line is ROUTE:
            self._main.append(laid)
        self.add(laid)

    def _laid(
        self,
        line: Line,
        stretch: Stretch,
        label: str,
        length_m: float,
        leaks: tuple[tuple[str, str, float], ...],
        swollen: float,
    ) -> Conductors:
        celsius = self._plant.temperature_c
        per = per_metre(stretch, celsius, self._seed, label).swollen(swollen)
        names = tuple(one.name for one in self._neighbours) if line is ROUTE else ()
        along = beside(stretch, names, celsius, self._seed, label)
        conductors = (*CONDUCTORS, *along.legs)
        near = tuple(self.front[conductor] for conductor in conductors)
        far = tuple(self.fresh(conductor) for conductor in conductors)
        count = self._fineness * lumps(per, length_m)
        return Conductors(near, far, per, length_m, count, leaks, along)

    def _triple(self) -> tuple[str, str, str]:
        return self.front["tip"], self.front["ring"], self.front["sheath"]

    def arrive(self) -> Route:
        """Join both sheath ends to their electrodes, and name the far end."""
        far, plant = self._triple(), self._plant
        self._electrode("sheath", plant.near_earth_ohm, 0.0, 0.0)
        self._electrode(far[2], plant.far_earth_ohm, plant.far_earth_volt, plant.far_earth_ac_volt)
        if (hum := induced(self._main, self._troubles)) is not None:
            self.add(hum)
        cable = tuple(self._parts)
        beside_it = tuple(self._arrived(one) for one in self._neighbours)
        bare = Route(cable, far, tuple(self._main), tuple(self._joints), cable, beside_it)
        return bare.joined({})

    def _arrived(self, pair: Neighbour) -> Laid:
        legs = f"{pair.name}.tip", f"{pair.name}.ring"
        tip, ring, sheath = (self.front[conductor] for conductor in (*legs, "sheath"))
        return Laid(pair, Terminals(*legs), Terminals(tip, ring, sheath))
