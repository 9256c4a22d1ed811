"""What may be off when readings become a place, by how much, and who says so."""

from collections.abc import Iterator
from dataclasses import dataclass

from line_model.cable import copper_factor
from line_model.constants import COPPER_TEMPCO_PER_C
from line_model.plant import Plant
from line_model.worksheet.record import Profile, leg_ohms, warmed

Pattern = tuple[float, ...]
"""A factor for each section."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tolerance:
    """Half-widths, each taken as a limit and not as a likely error."""

    accuracy_percent: float = 0.2
    """Of an ohms or dial reading. Invented for the demo, as the hand-held meter that ships."""
    accuracy_ohm: float = 0.2
    """Added to it: two counts of 0.1 ohm, likewise."""
    fraction: float = 0.001
    """Of a bridge's slide: a division of a thousand. Common practice, no source."""
    farad_percent: float = 1.0
    """Of a capacitance reading. Common practice, no source."""
    farad_nf: float = 0.2
    """Added to it: two counts of 0.1 nF. Common practice, no source."""
    gauge_percent: float = 5.0
    """The loop as built against the loop as computed: 7 CFR 1755.403(d)(6)(i)."""
    capacitance_percent: float = 8.0
    """52 +- 4 nF/km: 7 CFR 1755.860(m)(1)(i)."""
    temperature_c: float = 5.0
    """The cable's temperature as stated. Common practice, no source."""
    uneven_percent: float = 1.0
    """One section against the others, where their common error falls out. Common practice, no
    source."""
    unbalance_percent: float = 1.0
    """One leg against the other. Common practice, no source; limit of new cable 5 %, 7 CFR
    1755.860(m)(9)."""

    @property
    def loop_percent(self) -> float:
        """How far a loop as built may be off the record, gauge and temperature together."""
        return self.gauge_percent + 100 * COPPER_TEMPCO_PER_C.value * self.temperature_c

    def of_ohm(self, ohm: float) -> float:
        """How far an ohms reading may be off [ohm]."""
        return abs(ohm) * self.accuracy_percent / 100 + self.accuracy_ohm

    def of_nf(self, nf: float) -> float:
        """How far a capacitance reading may be off [nF]."""
        return abs(nf) * self.farad_percent / 100 + self.farad_nf


def both(half: float) -> tuple[float, float]:
    """A quantity that may be off to either side."""
    return -half, half


def gauges(tolerance: Tolerance) -> tuple[float, float]:
    """Factors of the record's ohms for its gauge: all sections alike."""
    part = tolerance.gauge_percent / 100
    return 1 - part, 1 + part


def unbalances(tolerance: Tolerance) -> tuple[float, float]:
    """Factors of one leg against the average of both."""
    part = tolerance.unbalance_percent / 200
    return 1 - part, 1 + part


def temperatures(plant: Plant, tolerance: Tolerance) -> tuple[Profile, Profile]:
    """A leg's ohms at the ends of the range of temperature."""
    by_c = tolerance.temperature_c
    return leg_ohms(warmed(plant, -by_c)), leg_ohms(warmed(plant, by_c))


def tilts(plant: Plant, tolerance: Tolerance, copper: bool = True) -> tuple[Pattern, ...]:
    """Sections off against each other: those before a joint one way, those past it the other.

    Where the common factor of all sections falls out, no other pattern moves a place further.

    Args:
        plant: the record.
        tolerance: how uneven sections may be, and how far each one's temperature may be off.
        copper: whether temperature matters (it does not for capacitance).
    """
    by_c = tolerance.temperature_c if copper else 0.0
    return tuple(
        _tilted(plant, joint, sign * tolerance.uneven_percent / 100, sign * by_c)
        for joint in range(1, len(plant.section))
        for sign in (-1, 1)
    )


def _tilted(plant: Plant, joint: int, part: float, by_c: float) -> Pattern:
    def factors() -> Iterator[float]:
        for index, section in enumerate(plant.section):
            own = section.temperature_c
            here = plant.temperature_c if own is None else own
            sign = 1 if index < joint else -1
            warm = copper_factor(here + sign * by_c) / copper_factor(here)
            yield (1 + sign * part) * warm

    return tuple(factors())


def level(plant: Plant) -> Pattern:
    """Sections as recorded."""
    return (1.0,) * len(plant.section)
