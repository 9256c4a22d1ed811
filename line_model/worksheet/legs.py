"""Three readings to three resistances: each leg and the return, the three tied at one place.

Law: TR = T + R, TG = T + G, RG = R + G, so T = (TR + TG - RG) / 2, and likewise R and G.
A series joint cannot be ranged from one end by DC: this tells which leg, and how many ohms.
Source: algebra; common practice.
"""

from dataclasses import dataclass
from typing import Any

from line_model.plant import Plant
from line_model.terminals import Leg
from line_model.worksheet.band import ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.record import leg_ohms
from line_model.worksheet.tolerance import Tolerance, as_built, both, may_be


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Across each two of tip, ring and sheath [ohm], all three tied at the far end."""

    tip_ring: float
    tip_ground: float
    ring_ground: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Legs:
    """What the legs are by themselves, and where the tie is by the lower of them."""

    tip_ohm: float
    ring_ohm: float
    ground_ohm: float
    off_ohm: float
    """How far each may be off."""
    difference_ohm: float
    """Tip less ring."""
    difference_off_ohm: float
    allowed_ohm: float
    """The unbalance that good cable of this length may have."""
    high_leg: Leg | None
    """The leg that holds series resistance; None while they are alike."""
    tie: Place


def solve(tip_ring: float, tip_ground: float, ring_ground: float) -> tuple[float, float, float]:
    """Tip, ring and the return, each by itself [ohm]."""
    half = (tip_ring + tip_ground + ring_ground) / 2
    return half - ring_ground, half - tip_ground, half - tip_ring


def locate(
    plant: Plant, readings: Readings, contact_ohm: float = 0.0, tolerance: Tolerance | None = None
) -> Legs:
    """Part the three readings into legs, and say which leg is high.

    Args:
        plant: the record.
        readings: leads taken off.
        contact_ohm: the contact in each leg at the tie.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: a leg would be less than nothing, or the tie past the far end.
    """
    of = tolerance or Tolerance()
    three = (readings.tip_ring, readings.tip_ground, readings.ring_ground)
    off_ohm = sum(map(of.of_ohm, three)) / 2
    tip, ring, ground = solve(*three)
    tip, ring = tip - contact_ohm, ring - contact_ohm
    _possible({"tip": tip, "ring": ring, "the return": ground}, off_ohm)
    # tip-ring is in both legs alike and falls out of their difference
    difference_off = of.of_ohm(readings.tip_ground) + of.of_ohm(readings.ring_ground)
    # by the average leg, which the better one is under by half the unbalance
    better = min(tip, ring) + off_ohm
    allowed = better * of.unbalance_percent / (100 - of.unbalance_percent / 2)
    high = abs(tip - ring) > allowed + difference_off
    return Legs(
        tip_ohm=tip,
        ring_ohm=ring,
        ground_ohm=ground,
        off_ohm=off_ohm,
        difference_ohm=tip - ring,
        difference_off_ohm=difference_off,
        allowed_ohm=max(allowed, 0.0),
        high_leg=None if not high else "tip" if tip > ring else "ring",
        tie=_tie(plant, min(tip, ring) if high else (tip + ring) / 2, off_ohm, of),
    )


def _possible(parts: dict[str, float], off_ohm: float) -> None:
    for name, ohm in parts.items():
        if ohm < -off_ohm:
            raise ImpossibleReadingError(
                f"{name} would be {ohm:.4g} ohm, less than nothing: the three readings were not "
                "taken of one tie, or foreign voltage is on the pair"
            )


def _tie(plant: Plant, leg_ohm: float, off_ohm: float, of: Tolerance) -> Place:
    """Where the three are tied, by a leg that holds no trouble."""
    legs = leg_ohms(plant)

    def metres(readings: float = 0.0, **built: Any) -> float:
        return as_built(legs, **built).metres(leg_ohm + readings)

    record = may_be(plant, of, "unbalance", "gauge", "temperature")
    band = banded(metres, {"readings": both(off_ohm), **record})
    values = {"leg_ohm": leg_ohm, "record_leg_ohm": legs.total}
    return placed(
        band, plant.length_m, values, why_past="both legs hold resistance, or a wrong record"
    )
