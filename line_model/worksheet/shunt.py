"""Two readings of a pair with resistance across it: idle and strapped at the far end.

Law: with R the good loop, s across the pair at x ohms of loop, idle reads x + s and strapped
x + s (R - x) / (s + R - x), so x = strapped - sqrt((R - strapped)(idle - strapped)).
Source: Blavier's two-reading test, from memory. An ohm of error moves it by tens of metres.
"""

from math import sqrt
from typing import Any

from line_model.plant import Plant
from line_model.worksheet.band import Band, ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.record import leg_ohms, loop_ohm
from line_model.worksheet.tolerance import Tolerance, as_built, both, loop_note, may_be


def to_trouble_ohm(good: float, idle: float, strapped: float) -> float:
    """Loop ohms up to the resistance across the pair; a root below zero is taken for zero."""
    return strapped - sqrt(max(good - strapped, 0.0) * max(idle - strapped, 0.0))


def locate(
    plant: Plant,
    idle: float,
    strapped: float,
    good: float | None = None,
    strap_ohm: float = 0.0,
    tolerance: Tolerance | None = None,
) -> Place:
    """Where the resistance stands across the pair. All readings in ohm, leads taken off.

    Args:
        plant: the record.
        idle: across the pair, far end open.
        strapped: the same, far end strapped.
        good: the loop without the trouble, strap and all: a like pair beside it, or an earlier
            reading. None: by the record, which is seldom near enough.
        strap_ohm: the strap's contact.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: the readings are no resistance across this pair.
    """
    of = tolerance or Tolerance()
    whole_ohm = loop_ohm(plant) + strap_ohm if good is None else good
    _possible(idle, strapped, whole_ohm, of, by_record=good is None)
    x_ohm = to_trouble_ohm(whole_ohm, idle, strapped)
    by = _by_record if good is None else _by_share
    band = by(plant, (whole_ohm, idle, strapped), strap_ohm, of)
    values = {"to_trouble_ohm": x_ohm, "across_ohm": idle - x_ohm, "good_loop_ohm": whole_ohm}
    notes = (
        ("the good loop is by the record: read a like pair, strapped, for a narrower band",)
        if good is None
        else loop_note(plant, whole_ohm - strap_ohm, of)
    )
    return placed(band, plant.length_m, values, notes)


def _possible(idle: float, strapped: float, good: float, of: Tolerance, by_record: bool) -> None:
    off = of.of_ohm(strapped)
    good_off = good * of.loop_percent / 100 if by_record else of.of_ohm(good)
    if strapped - off > good + good_off:
        raise ImpossibleReadingError(
            f"strapped, it reads {strapped:.5g} ohm, more than the good loop's {good:.5g}: the "
            "root would be negative; resistance in a leg, or not this pair's record"
        )
    if strapped - off > idle + of.of_ohm(idle):
        raise ImpossibleReadingError(
            f"strapped, it reads {strapped:.5g} ohm, more than idle with {idle:.5g}: the root "
            "would be negative; the readings are exchanged, or foreign voltage is on the pair"
        )


Readings = tuple[float, float, float]
"""Good loop, idle and strapped [ohm]."""


def _by_share(plant: Plant, readings: Readings, strap_ohm: float, of: Tolerance) -> Band:
    good, idle, strapped = readings
    legs = leg_ohms(plant)

    def metres(
        loop: float = 0.0, reading_idle: float = 0.0, reading_strapped: float = 0.0, **built: Any
    ) -> float:
        whole = good + loop
        x_ohm = to_trouble_ohm(whole, idle + reading_idle, strapped + reading_strapped)
        return as_built(legs, **built).metres_by_share(x_ohm / (whole - strap_ohm))

    moves = {"loop": both(of.of_ohm(good)), **may_be(plant, of, "sections")}
    return banded(metres, {**_instrument(readings, of), **moves})


def _by_record(plant: Plant, readings: Readings, strap_ohm: float, of: Tolerance) -> Band:
    _, idle, strapped = readings
    legs = leg_ohms(plant)

    def metres(reading_idle: float = 0.0, reading_strapped: float = 0.0, **built: Any) -> float:
        leg = as_built(legs, **built)
        whole = 2 * leg.total + strap_ohm
        x_ohm = to_trouble_ohm(whole, idle + reading_idle, strapped + reading_strapped)
        return leg.metres(x_ohm / 2)

    record = may_be(plant, of, "gauge", "temperature")
    return banded(metres, {**_instrument(readings, of), **record})


def _instrument(readings: Readings, of: Tolerance) -> dict[str, tuple[float, float]]:
    _, idle, strapped = readings
    return {
        "reading_idle": both(of.of_ohm(idle)),
        "reading_strapped": both(of.of_ohm(strapped)),
    }
