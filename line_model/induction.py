"""Induced voltage along the legs: sources that are spread evenly from end to end.

A stretch whose legs have an EMF e a metre and impedance z a metre is, at its ends, the same stretch
without EMF and a current e / z from its near to its far node in each leg: with both ends held at
one potential that current flows through and no voltage stands anywhere, whatever the shunt is.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi

from line_model.parts import Alternating, Element, Part
from line_model.section import SHEATH, Conductors
from line_model.troubles import Induction


@dataclass(frozen=True, slots=True)
class Induced(Part):
    """What induction drives along a route; to direct current it is nothing."""

    currents: tuple[Alternating, ...]

    def lumped(self) -> Iterator[Element]:
        return iter(())

    def alternating(self) -> Iterator[Alternating]:
        return iter(self.currents)


def induced(main: Sequence[Conductors], troubles: Sequence[object]) -> Induced | None:
    """Return what induction drives along the stretches from end to end; None without any."""
    volt: dict[float, float] = {}
    for trouble in troubles:
        if isinstance(trouble, Induction):
            for hz, rms_volt in trouble.components():
                volt[hz] = volt.get(hz, 0.0) + rms_volt
    length_m = sum(stretch.length_m for stretch in main)
    currents = tuple(
        Alternating(hz, stretch.far[leg], stretch.near[leg], rms_volt / length_m / ohm_per_m)
        for hz, rms_volt in volt.items()
        for stretch in main
        for leg, ohm_per_m in _legs(stretch, hz)
    )
    return Induced(currents) if currents else None


def _legs(stretch: Conductors, hz: float) -> Iterator[tuple[int, complex]]:
    """Each leg by number, neighbours' too, and its series impedance [ohm/m]."""
    for conductor, (ohm, henry) in enumerate(stretch.series()):
        if conductor != SHEATH:
            yield conductor, ohm + 2j * pi * hz * henry
