"""What may be off when readings become a place, by how much, and who says so."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from line_model.cable import copper_factor
from line_model.constants import COPPER_TEMPCO_PER_C
from line_model.plant import Plant
from line_model.worksheet.record import Profile, leg_ohms, loop_ohm, warmed

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


def as_built(
    legs: Profile,
    unbalance: float = 1.0,
    gauge: float = 1.0,
    temperature: Profile | None = None,
    sections: Pattern = (),
) -> Profile:
    """A leg as it may have been built: what the record says is never quite what is there.

    Args:
        legs: by the record.
        unbalance: one leg over the average of both.
        gauge: all sections alike, over the record's.
        temperature: by the record at another temperature.
        sections: each over the record's.
    """
    there = temperature or legs
    return there.scaled([unbalance * gauge * own for own in sections or (1.0,) * len(legs.per_m)])


Quantity = Literal["unbalance", "gauge", "temperature", "sections"]


def may_be(plant: Plant, tolerance: Tolerance, *of: Quantity) -> dict[str, Sequence[Any]]:
    """The ends of what `as_built` is told, for some quantities of a leg."""
    gauge, unbalance = tolerance.gauge_percent / 100, tolerance.unbalance_percent / 200
    by_c = tolerance.temperature_c
    ends: dict[str, Sequence[Any]] = {
        "unbalance": (1 - unbalance, 1 + unbalance),
        "gauge": (1 - gauge, 1 + gauge),
        "temperature": (leg_ohms(warmed(plant, -by_c)), leg_ohms(warmed(plant, by_c))),
        "sections": tilts(plant, tolerance),
    }
    return {quantity: ends[quantity] for quantity in of}


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
