"""One trouble measured from both ends: what the readings share falls out.

An open: each end sees its own part, and the near share of both is the near share of the record,
whatever a metre of this cable has. A short with resistance in it: both ends have that resistance,
and the difference of the readings has it not.
Source: algebra; common practice.
"""

from typing import Any

from line_model.plant import Plant
from line_model.worksheet.band import Band, ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.farads import Across, OpenPair
from line_model.worksheet.record import leg_ohms, loop_ohm
from line_model.worksheet.tolerance import (
    Pattern,
    Tolerance,
    as_built,
    both,
    loop_note,
    may_be,
    tilts,
)


def locate_open(
    plant: Plant,
    near_nf: float,
    far_nf: float,
    across: Across = "pair",
    tolerance: Tolerance | None = None,
) -> Place:
    """Where an open lies that reads so from the near and from the far end.

    Raises:
        ImpossibleReadingError: nothing at all was read, or less.
    """
    of = tolerance or Tolerance()
    if min(near_nf, far_nf) < 0 or near_nf + far_nf <= 0:
        raise ImpossibleReadingError("a capacitance below zero, or none from either end")

    def metres(near: float = 0.0, far: float = 0.0, sections: Pattern = ()) -> float:
        pair = OpenPair(plant, across, factors=sections)
        ours, theirs = max(near_nf + near, 0.0), max(far_nf + far, 0.0)
        return pair.metres(pair.whole_nf * ours / (ours + theirs))

    band = banded(
        metres,
        {
            "near": both(of.of_nf(near_nf)),
            "far": both(of.of_nf(far_nf)),
            "sections": tilts(plant, of, copper=False),
        },
    )
    whole_nf = OpenPair(plant, across).whole_nf
    values = {"both_nf": near_nf + far_nf, "record_nf": whole_nf}
    return placed(band, plant.length_m, values, _sum_note(near_nf + far_nf, whole_nf, of))


def _sum_note(both_nf: float, whole_nf: float, of: Tolerance) -> tuple[str, ...]:
    percent = 100 * (both_nf / whole_nf - 1)
    if abs(percent) <= of.capacitance_percent + of.farad_percent:
        return ()
    why = "a second open between" if percent < 0 else "water, a tap or a unit on the pair"
    return (f"both ends together are {percent:+.1f} % off the record: {why}, or a wrong record",)


def locate_short(
    plant: Plant,
    near_ohm: float,
    far_ohm: float,
    good_ohm: float | None = None,
    tolerance: Tolerance | None = None,
) -> Place:
    """Where resistance across the pair lies that reads so from each end, the other end open.

    Args:
        plant: the record.
        near_ohm: from the near end, leads taken off.
        far_ohm: from the far end, likewise.
        good_ohm: a like pair's loop; None: by the record.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: the two are less than the loop.
    """
    of = tolerance or Tolerance()
    whole = loop_ohm(plant) if good_ohm is None else good_ohm
    across_ohm = (near_ohm + far_ohm - whole) / 2
    loop_off = whole * of.loop_percent / 100 if good_ohm is None else of.of_ohm(whole)
    if across_ohm < -(of.of_ohm(near_ohm) + of.of_ohm(far_ohm) + loop_off) / 2:
        raise ImpossibleReadingError(
            f"both ends together read {near_ohm + far_ohm:.5g} ohm, less than the loop's "
            f"{whole:.5g}: two troubles, or the record is too long"
        )
    band = _by_record(plant, near_ohm, far_ohm, of)
    notes: tuple[str, ...] = ()
    if good_ohm is not None:
        band = _by_share(plant, near_ohm, far_ohm, good_ohm, of)
        notes = loop_note(plant, good_ohm, of)
    values = {"across_ohm": across_ohm, "loop_ohm": whole}
    return placed(band, plant.length_m, values, notes)


def _by_share(plant: Plant, near_ohm: float, far_ohm: float, good: float, of: Tolerance) -> Band:
    legs = leg_ohms(plant)

    def metres(near: float = 0.0, far: float = 0.0, loop: float = 0.0, **built: Any) -> float:
        whole = good + loop
        share = (near_ohm + near - far_ohm - far + whole) / 2 / whole
        return as_built(legs, **built).metres_by_share(share)

    moves = {"loop": both(of.of_ohm(good)), **may_be(plant, of, "sections")}
    return banded(metres, {**_instrument(near_ohm, far_ohm, of), **moves})


def _by_record(plant: Plant, near_ohm: float, far_ohm: float, of: Tolerance) -> Band:
    legs = leg_ohms(plant)

    def metres(near: float = 0.0, far: float = 0.0, **built: Any) -> float:
        leg = as_built(legs, **built)
        more = near_ohm + near - far_ohm - far
        return leg.metres((more / 2 + leg.total) / 2)

    record = may_be(plant, of, "gauge", "temperature", "sections")
    return banded(metres, {**_instrument(near_ohm, far_ohm, of), **record})


def _instrument(near_ohm: float, far_ohm: float, of: Tolerance) -> dict[str, tuple[float, float]]:
    return {"near": both(of.of_ohm(near_ohm)), "far": both(of.of_ohm(far_ohm))}
