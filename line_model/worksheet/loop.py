"""Ohms across the pair to the distance of a short or a strap, over a record of mixed gauges.

Law: ohms are counted off section by section, each at its temperature; leads and contacts first.
Source: 7 CFR 1755.403(d)(6).
"""

from typing import Any

from line_model.plant import Plant
from line_model.worksheet.band import ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.record import leg_ohms
from line_model.worksheet.tolerance import Tolerance, as_built, both, may_be


def locate(
    plant: Plant,
    ohm: float,
    lead_ohm: float = 0.0,
    contact_ohm: float = 0.0,
    tolerance: Tolerance | None = None,
) -> Place:
    """Where a short across the pair reads so many ohms.

    Args:
        plant: the record.
        ohm: as read across tip and ring.
        lead_ohm: both test leads together, where they were not zeroed.
        contact_ohm: the strap's contact, or the short itself where it is known.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: less than leads and contacts, or past the far end.
    """
    of = tolerance or Tolerance()
    legs = leg_ohms(plant)
    net_ohm = ohm - lead_ohm - contact_ohm
    off = of.of_ohm(ohm)
    if net_ohm < -off:
        raise ImpossibleReadingError(
            f"{net_ohm:.4g} ohm are left when leads and contact are taken off: foreign voltage on "
            "the pair, or leads that read less than was taken off"
        )

    def metres(instrument: float = 0.0, **built: Any) -> float:
        return as_built(legs, **built).metres((net_ohm + instrument) / 2)

    record = may_be(plant, of, "gauge", "temperature")
    band = banded(metres, {"instrument": both(off), **record})
    values = {"loop_ohm": net_ohm, "record_loop_ohm": 2 * legs.total}
    return placed(band, plant.length_m, values)
