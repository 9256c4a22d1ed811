"""Induced voltage along the legs: sources that are spread evenly from end to end.

A stretch whose legs have an EMF e a metre and impedance z a metre is, at its ends, the same stretch
without EMF and a current e / z from its near to its far node in each leg: with both ends held at
one potential that current flows through and no voltage stands anywhere, whatever the shunt is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from line_model.parts import Complex
from line_model.route import Route
from line_model.troubles import Induction, Trouble


@dataclass(frozen=True, slots=True)
class Hum:
    """Frequencies [Hz] and, for each leg of each stretch, the current out of b into a [A]."""

    hz: tuple[float, ...]
    currents: tuple[tuple[str, str, Complex], ...]


def hum(route: Route, troubles: Sequence[Trouble]) -> Hum | None:
    """Return what induction drives along a route; None without any."""
    volt: dict[float, float] = {}
    for trouble in troubles:
        if isinstance(trouble, Induction):
            for f, rms_volt in trouble.components():
                volt[f] = volt.get(f, 0.0) + rms_volt
    if not volt:
        return None
    hz = tuple(volt)
    length_m = sum(stretch.length_m for stretch in route.main)
    volt_per_m = np.array(list(volt.values())) / length_m
    omega = 2 * np.pi * np.array(hz)
    currents = []
    for stretch in route.main:
        per = stretch.per_metre
        for leg, ohm in enumerate((per.tip_ohm, per.ring_ohm)):
            amp = volt_per_m / (ohm + 1j * omega * per.leg_henry)
            currents.append((stretch.far[leg], stretch.near[leg], amp))
    return Hum(hz, tuple(currents))
