"""Bridge readings to the distance of a leak on a named bad leg, the far end strapped.

Law: at balance the arms stand to each other as the two ways around the strap to the trouble. The
arm of the bad side is next to the bad leg; leads of equal resistance stand in both ways.
Source: A. L. Albert, Electrical Communication, "Direct-Current Bridges": Murray and Varley.
"""

from dataclasses import dataclass
from typing import Any

from line_model.plant import Plant
from line_model.worksheet.band import Band, ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.record import leg_ohms, loop_ohm
from line_model.worksheet.tolerance import Tolerance, as_built, both, loop_note, may_be

PAST_STRAP = "the legs are exchanged, or the good leg is bad too"


def murray_ohm(loop: float, good_arm: float, bad_arm: float, lead_ohm: float = 0.0) -> float:
    """Ohms of the bad leg up to the trouble, from the two arms of a slide.

    Args:
        loop: both legs and the strap in series, leads taken off [ohm].
        good_arm: the arm next to the good leg, in any unit.
        bad_arm: the arm next to the bad leg, in the same.
        lead_ohm: each test lead.
    """
    return bad_arm / (good_arm + bad_arm) * (loop + 2 * lead_ohm) - lead_ohm


def varley_ohm(
    loop: float, dial: float, good_arm: float = 1.0, bad_arm: float = 1.0, lead_ohm: float = 0.0
) -> float:
    """Ohms of the bad leg up to the trouble, from a dial in series with it [ohm]."""
    good_way, bad_way = bad_arm * (loop + lead_ohm), good_arm * (dial + lead_ohm)
    return (good_way - bad_way) / (good_arm + bad_arm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A Murray reading: what share of the slide is next to the bad leg."""

    fraction: float

    def trouble_ohm(self, loop: float, lead_ohm: float, off: float) -> float:
        share = self.fraction + off
        return murray_ohm(loop, 1 - share, share, lead_ohm)

    def off(self, tolerance: Tolerance) -> float:
        return tolerance.fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Dial:
    """A Varley reading: ohms in series with the bad leg, and the arms."""

    dial_ohm: float
    good_arm: float = 1.0
    bad_arm: float = 1.0

    def trouble_ohm(self, loop: float, lead_ohm: float, off: float) -> float:
        return varley_ohm(loop, self.dial_ohm + off, self.good_arm, self.bad_arm, lead_ohm)

    def off(self, tolerance: Tolerance) -> float:
        return tolerance.of_ohm(self.dial_ohm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hookup:
    """What the reading was taken with."""

    reading: Slide | Dial
    loop_ohm: float | None = None
    """Bad leg, strap and good leg as read at the near end; None: by the record."""
    good_ohm: float | None = None
    """A good leg of another pair, by itself; None: the good leg is the bad one's mate."""
    strap_ohm: float = 0.0
    lead_ohm: float = 0.0
    """Each test lead, where the leads were not zeroed."""


def locate(
    plant: Plant, hookup: Hookup, by_ohms: bool = False, tolerance: Tolerance | None = None
) -> Place:
    """Where the trouble lies on the bad leg.

    Args:
        plant: the record.
        hookup: the reading and what it was taken with.
        by_ohms: count the trouble's ohms off at the record's gauge and temperature; else by
            proportion of the bad leg's own ohms, where both fall out.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: no place on the bad leg balances so.
    """
    of = tolerance or Tolerance()
    whole_ohm = _loop_ohm(plant, hookup)
    trouble_ohm, leg_ohm = _ohms(hookup, whole_ohm)
    if leg_ohm <= 0:
        raise ImpossibleReadingError(
            f"the strap and the good leg are {-leg_ohm:.4g} ohm more than the whole loop"
        )
    band = (_by_ohms if by_ohms else _by_share)(plant, hookup, whole_ohm, of)
    values = {
        "to_trouble_ohm": trouble_ohm,
        "trouble_to_strap_ohm": leg_ohm - trouble_ohm,
        "loop_ohm": whole_ohm,
        "record_loop_ohm": loop_ohm(plant),
    }
    notes = () if hookup.loop_ohm is None else loop_note(plant, 2 * leg_ohm, of)
    return placed(band, plant.length_m, values, notes, PAST_STRAP)


def _loop_ohm(plant: Plant, hookup: Hookup) -> float:
    if hookup.loop_ohm is not None:
        return hookup.loop_ohm
    leg = leg_ohms(plant).total
    return leg + hookup.strap_ohm + (leg if hookup.good_ohm is None else hookup.good_ohm)


def _ohms(
    hookup: Hookup, loop_ohm: float, reading: float = 0.0, good_leg: float = 0.0
) -> tuple[float, float]:
    """The bad leg's ohms to the trouble, and its whole."""
    trouble_ohm = hookup.reading.trouble_ohm(loop_ohm, hookup.lead_ohm, reading)
    if hookup.good_ohm is None:
        return trouble_ohm, (loop_ohm - hookup.strap_ohm) / 2
    return trouble_ohm, loop_ohm - hookup.strap_ohm - hookup.good_ohm - good_leg


def _by_share(plant: Plant, hookup: Hookup, whole_ohm: float, of: Tolerance) -> Band:
    legs = leg_ohms(plant)

    def metres(
        reading: float = 0.0,
        loop: float = 0.0,
        good_leg: float = 0.0,
        unbalance: float = 1.0,
        **built: Any,
    ) -> float:
        trouble_ohm, leg_ohm = _ohms(hookup, whole_ohm + loop, reading, good_leg)
        return as_built(legs, **built).metres_by_share(trouble_ohm / leg_ohm / unbalance)

    record = may_be(plant, of, "unbalance", "sections")
    if hookup.good_ohm is not None:
        del record["unbalance"]  # the bad leg's own ohms are known: it has no mate to be unlike
    return banded(metres, {**_instrument(hookup, whole_ohm, of), **record})


def _by_ohms(plant: Plant, hookup: Hookup, whole_ohm: float, of: Tolerance) -> Band:
    legs = leg_ohms(plant)

    def metres(
        reading: float = 0.0, loop: float = 0.0, good_leg: float = 0.0, **built: Any
    ) -> float:
        trouble_ohm, _ = _ohms(hookup, whole_ohm + loop, reading, good_leg)
        return as_built(legs, **built).metres(trouble_ohm)

    record = may_be(plant, of, "unbalance", "gauge", "temperature")
    return banded(metres, {**_instrument(hookup, whole_ohm, of), **record})


def _instrument(hookup: Hookup, whole_ohm: float, of: Tolerance) -> dict[str, tuple[float, ...]]:
    """How far each reading may be off; legs by the record are off by gauge and temperature."""
    good_ohm = hookup.good_ohm
    loop_off = of.of_ohm(whole_ohm)
    if hookup.loop_ohm is None:
        loop_off = (whole_ohm - hookup.strap_ohm - (good_ohm or 0.0)) * of.loop_percent / 100
    return {
        "reading": both(hookup.reading.off(of)),
        "loop": both(loop_off),
        "good_leg": () if good_ohm is None else both(of.of_ohm(good_ohm)),
    }
