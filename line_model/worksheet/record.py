"""The plant as recorded, as sums along the route: ohms of a leg, and their way back to metres.

Nothing hidden is used: an average leg by the catalogue, each section at its temperature, lay
included. Source of the sum: 7 CFR 1755.403(d)(6), length times resistance a length, by temperature.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate
from typing import Literal

from line_model.cable import per_metre
from line_model.plant import Plant, Section, Stretch

PAST_END = 1.1
"""A loop a little longer than the route is still told: leads and contacts are in the reading.
A choice, no source."""


@dataclass(frozen=True, slots=True)
class Profile:
    """A quantity that adds up along the route: so much a metre in each section."""

    lengths_m: tuple[float, ...]
    per_m: tuple[float, ...]

    @property
    def total(self) -> float:
        return sum(m * per for m, per in zip(self.lengths_m, self.per_m, strict=True))

    def metres(self, amount: float) -> float:
        """Where so much has added up; the first and last sections run on past their ends."""
        start_m, per = 0.0, self.per_m[0]
        for length_m, per in zip(self.lengths_m, self.per_m, strict=True):
            if amount <= length_m * per:
                break
            start_m += length_m
            amount -= length_m * per
        return start_m + amount / per

    def metres_by_share(self, share: float) -> float:
        """Where a share of the whole has added up: what all sections have alike falls out."""
        return self.metres(share * self.total)

    def scaled(self, factors: Sequence[float]) -> "Profile":
        """The same with each section times a factor of its own."""
        return Profile(
            self.lengths_m, tuple(p * f for p, f in zip(self.per_m, factors, strict=True))
        )


@dataclass(frozen=True, slots=True)
class PerLeg:
    """A stretch by the record, a metre of it."""

    leg_ohm: float
    leg_henry: float
    pair_nf: float
    """Between tip and ring, sheath floating."""
    leg_nf: float
    """One leg to the sheath and to the other leg, which is grounded."""


def per_leg(stretch: Stretch, plant: Plant) -> PerLeg:
    """An average leg of a stretch, free of the unbalances that no record tells."""
    per = per_metre(stretch, plant.temperature_c, 0, "record")
    leg_sheath = (per.tip_sheath_farad + per.ring_sheath_farad) / 2
    return PerLeg(
        leg_ohm=(per.tip_ohm + per.ring_ohm) / 2,
        leg_henry=per.leg_henry,
        pair_nf=1e9 * (per.tip_ring_farad + leg_sheath / 2),
        leg_nf=1e9 * (per.tip_ring_farad + leg_sheath),
    )


@lru_cache(maxsize=256)
def leg_ohms(plant: Plant) -> Profile:
    """Ohms of one leg along the route; those of load coils are spread over their section."""
    lengths_m = tuple(section.length_m for section in plant.section)
    ends_m = tuple(accumulate(lengths_m))
    per_m = [per_leg(section, plant).leg_ohm for section in plant.section]
    for coil in plant.coils:
        i = min(bisect_right(ends_m, coil.at_m), len(ends_m) - 1)
        per_m[i] += coil.ohm / 2 / lengths_m[i]
    return Profile(lengths_m, tuple(per_m))


def joints_m(plant: Plant) -> tuple[float, ...]:
    """Where one section meets the next."""
    return tuple(accumulate(section.length_m for section in plant.section))[:-1]


def at_temperature(plant: Plant, temperature_c: float) -> Plant:
    """The record with the whole route at one temperature."""
    return _with_temperatures(plant, [temperature_c] * len(plant.section), temperature_c)


def warmed(plant: Plant, by_c: float) -> Plant:
    """The record with every section so much warmer."""
    own = (section.temperature_c for section in plant.section)
    here = plant.temperature_c
    return _with_temperatures(plant, [(here if c is None else c) + by_c for c in own], here + by_c)


def _with_temperatures(plant: Plant, sections_c: Sequence[float], plant_c: float) -> Plant:
    section = tuple(
        replace(each, temperature_c=c) for each, c in zip(plant.section, sections_c, strict=True)
    )
    return replace(plant, section=section, temperature_c=plant_c)


def loop_ohm(plant: Plant) -> float:
    """Loop resistance of the whole route [ohm]."""
    return 2 * leg_ohms(plant).total


def without_unbalances(plant: Plant) -> Plant:
    """A plant as a record tells it: no record knows which leg is off."""
    section = [
        replace(each, unbalance_percent=0.0, unbalance_pf_per_km=0.0) for each in plant.section
    ]
    tap = [replace(each, unbalance_percent=0.0, unbalance_pf_per_km=0.0) for each in plant.tap]
    return replace(plant, section=tuple(section), tap=tuple(tap))


def seen_from(plant: Plant, at_m: float, toward: Literal["near", "far"]) -> Plant | None:
    """The record as it is from a place on it toward one end; None where there is nothing left.

    So whatever counts metres from the near end counts them from where a person stands.
    """
    section: list[Section] = []
    start_m = 0.0
    for each in plant.section:
        end_m = start_m + each.length_m
        left_m = start_m if toward == "near" else max(start_m, at_m)
        right_m = min(end_m, at_m) if toward == "near" else end_m
        if right_m > left_m:
            section.append(replace(each, length_m=right_m - left_m))
        start_m = end_m
    if not section:
        return None
    if toward == "near":
        section.reverse()

    def is_there(place_m: float) -> bool:
        return place_m < at_m if toward == "near" else place_m > at_m

    tap = tuple(replace(t, at_m=abs(t.at_m - at_m)) for t in plant.tap if is_there(t.at_m))
    coil = tuple(replace(c, at_m=abs(c.at_m - at_m)) for c in plant.coils if is_there(c.at_m))
    return replace(
        plant, section=tuple(section), tap=tap, access=(), earth=(), coil=coil, loading=None
    )


def loop_metres(ohm: float, plant: Plant) -> float | None:
    """How far along the cable a short across the pair reads this [m]; nothing is taken off.

    None where it would lie well past the far end, or behind the meter.
    """
    if not 0 <= ohm <= PAST_END * loop_ohm(plant):
        return None
    return leg_ohms(plant).metres(ohm / 2)
