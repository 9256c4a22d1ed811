"""From ohms to metres: how long a loop of this plant reads so many ohms.

This is the technician's own sum over the plant as written down: loop resistance by section, at each
section's temperature, lay included. Contacts and leads are not taken off here.
Source: 7 CFR 1755.403(d)(6): the sum of length times loop resistance a length, by temperature.
"""

from line_model.cable import conductor_ohm_per_km, defaults, gauge_name
from line_model.plant import Plant, Section

PAST_END = 1.1
"""A loop a little longer than the route is still told: leads and contacts are in the reading."""


def loop_ohm_per_m(section: Section, plant: Plant) -> float:
    """Loop resistance of a section by the catalogue, at its temperature [ohm/m]."""
    gauge = gauge_name(section)
    celsius = plant.temperature_c if section.temperature_c is None else section.temperature_c
    lay = defaults(gauge)["lay_percent"] if section.lay_percent is None else section.lay_percent
    return 2 * conductor_ohm_per_km(gauge, celsius) * (1 + lay / 100) / 1000


def loop_ohm(plant: Plant) -> float:
    """Loop resistance of the whole route [ohm]."""
    return sum(loop_ohm_per_m(section, plant) * section.length_m for section in plant.section)


def loop_metres(ohm: float, plant: Plant) -> float | None:
    """How far along the cable a short across the pair reads this [m].

    None where it would lie well past the far end, or behind the meter.
    """
    if not 0 <= ohm <= PAST_END * loop_ohm(plant):
        return None
    start_m, per_m = 0.0, 1.0
    for section in plant.section:
        per_m = loop_ohm_per_m(section, plant)
        section_ohm = per_m * section.length_m
        if ohm <= section_ohm:
            return start_m + ohm / per_m
        ohm -= section_ohm
        start_m += section.length_m
    return start_m + ohm / per_m
