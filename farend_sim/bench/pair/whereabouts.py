"""Where a technician stands along the route, how its joints are joined, and what was left where.

Law: places have names, and nodes only at the moment they are asked for, so that a route laid anew
moves nobody. Pure: time is told, never taken.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from farend_sim.bench.pair.wiring import Lead
from line_model.joints import OPENED, STRAIGHT, Joins, Side
from line_model.plant import TRAVEL_M_PER_S, Access, Plant
from line_model.route import Route
from line_model.terminals import NEAR as NEAR_TERMINALS
from line_model.terminals import Terminals
from line_model.worksheet.record import seen_from

NEAR, FAR = "near", "far"
"""The two ends as places."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where leads are put: a place, and a side of its joint while that is open."""

    place: str = NEAR
    side: Side = "near"


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """A technician on the way along a plant."""

    plant: Plant
    record: Plant
    """What the plant is said to be: a technician sees no other distance."""
    spot: Spot = field(default_factory=Spot)
    joins: Mapping[str, Joins] = field(default_factory=dict)
    """By the joint's name, where it is not as it was spliced."""
    bonded: frozenset[str] = frozenset()
    """The joints whose sheath is bonded across."""
    leads: Mapping[Spot, Lead] = field(default_factory=dict)
    """Clip leads, where they were put: who leaves one behind leaves it on."""

    @property
    def access(self) -> Access | None:
        """The access point that the technician stands at; None at an end."""
        return next((a for a in self.plant.access if a.name == self.spot.place), None)

    @property
    def joined(self) -> Joins:
        """How the joint at hand is joined."""
        return self.joins.get(self.spot.place, STRAIGHT)

    @property
    def opened(self) -> bool:
        """Whether a joint is at hand with no leg joined, so that it can be looked at both ways."""
        return self.access is not None and self.joined == OPENED

    @property
    def looking(self) -> str | None:
        """Which way the leads look: `near`, `far`, or None over a joint that is not open."""
        if self.access is None:
            return FAR if self.spot.place == NEAR else NEAR
        return self.spot.side if self.opened else None

    @property
    def places(self) -> tuple[str, ...]:
        """All places, near to far."""
        return places_of(self.plant)

    def at_m(self, place: str) -> float:
        """How far a place is along the cable from the near end [m]."""
        if place in (NEAR, FAR):
            return 0.0 if place == NEAR else self.plant.length_m
        return next(access.at_m for access in self.plant.access if access.name == place)

    def travel_s(self, from_m: float, to_m: float) -> float:
        """How long the way between two places takes [s]."""
        return abs(self._from_near_s(to_m) - self._from_near_s(from_m))

    def terminals(self, route: Route, spot: Spot) -> Terminals:
        """The nodes of a spot, on the pair itself."""
        if spot.place == NEAR:
            return NEAR_TERMINALS
        if spot.place == FAR:
            return Terminals(*route.far)
        joint = next(joint for joint in route.joints if joint.name == spot.place)
        return joint.side(spot.side)

    @property
    def left(self) -> tuple[tuple[Spot, Lead], ...]:
        """The clip leads that are on elsewhere than here."""
        at_hand = self._lead_spot
        return tuple((spot, lead) for spot, lead in self.leads.items() if spot != at_hand)

    def said_m(self, place: str) -> float:
        """How far a place is from the near end by the record [m]."""
        if place in (NEAR, FAR):
            return 0.0 if place == NEAR else self.record.length_m
        return next(access.at_m for access in self.record.access if access.name == place)

    @property
    def view(self) -> Plant | None:
        """The record from here, the way the leads look; None where that is both ways at once."""
        if self.looking is None or self.spot.place == NEAR:
            return None if self.looking is None else self.record
        side: Side = "near" if self.looking == NEAR else "far"
        return seen_from(self.record, self.said_m(self.spot.place), side)

    @property
    def lead(self) -> Lead:
        """The clip lead that is on here."""
        return self.leads.get(self._lead_spot, "clear")

    @property
    def _lead_spot(self) -> Spot:
        """Where the clip lead at hand is: over a joint that is joined, on either side of it."""
        other = replace(self.spot, side="far" if self.spot.side == "near" else "near")
        is_whole = self.access is not None and len(self.joined) == len(STRAIGHT)
        return other if is_whole and self.spot not in self.leads else self.spot

    # -- what is done ----------------------------------------------------------------------------

    def gone(self, place: str) -> "Whereabouts":
        """At another place."""
        return replace(self, spot=Spot(place))

    def looked(self, side: Side) -> "Whereabouts":
        """With the leads on a side of the joint at hand."""
        return replace(self, spot=replace(self.spot, side=side))

    def with_lead(self, lead: Lead) -> "Whereabouts":
        """With a clip lead on here; `clear` takes it off."""
        at_hand = self._lead_spot
        others = {spot: left for spot, left in self.leads.items() if spot != at_hand}
        return replace(self, leads=others if lead == "clear" else {**others, self.spot: lead})

    def with_bond(self) -> "Whereabouts":
        """With the sheath bonded across the joint at hand."""
        return replace(self, bonded=self.bonded | {self.spot.place})

    def with_joins(self, joins: Joins) -> "Whereabouts":
        """With the joint at hand joined so."""
        return replace(self, joins={**self.joins, self.spot.place: joins})

    # -- the way ---------------------------------------------------------------------------------

    def _from_near_s(self, at_m: float) -> float:
        """The way from the near end [s]: straight between the places whose times are known."""
        known = sorted(_milestones(self.plant))
        for (start_m, start_s), (end_m, end_s) in pairwise(known):
            if at_m <= end_m:
                return start_s + (at_m - start_m) / (end_m - start_m) * (end_s - start_s)
        return known[-1][1] + (at_m - known[-1][0]) / TRAVEL_M_PER_S


def _milestones(plant: Plant) -> Iterator[tuple[float, float]]:
    yield 0.0, 0.0
    for access in plant.access:
        yield access.at_m, access.from_near_s


def places_of(plant: Plant) -> tuple[str, ...]:
    """Where a technician can go, near to far."""
    between = sorted(plant.access, key=lambda access: access.at_m)
    return (NEAR, *(access.name for access in between), FAR)
