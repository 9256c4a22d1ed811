"""Ohms of a leg to metres by proportion: the record stretched to the loop that was measured.

Law: what gauge and temperature do to all sections alike falls out. What is left is one section
against another and one leg against the other.
"""

from line_model.plant import Plant
from line_model.worksheet.record import leg_ohms, loop_ohm
from line_model.worksheet.tolerance import Pattern, Tolerance


def metres_by_share(plant: Plant, share: float, tilt: Pattern) -> float:
    """Where a leg has reached a share of its whole resistance [m]."""
    legs = leg_ohms(plant).scaled(tilt)
    return legs.metres(share * legs.total)


def loop_note(plant: Plant, measured_ohm: float, tolerance: Tolerance) -> tuple[str, ...]:
    """A measured loop that gauge and temperature cannot explain, in words."""
    recorded_ohm = loop_ohm(plant)
    percent = 100 * (measured_ohm / recorded_ohm - 1)
    if abs(percent) <= tolerance.loop_percent:
        return ()
    return (
        f"the loop read is {percent:+.1f} % off the record's {recorded_ohm:.1f} ohm, more than "
        "gauge and temperature explain: a wrong record, or resistance in a leg",
    )
