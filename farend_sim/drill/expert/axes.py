"""What a record leaves open as columns of numbers, each of mean 0 and standard deviation 1."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot

import numpy as np

from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.records import Record
from line_model.constants import COPPER_TEMPCO_PER_C
from line_model.parts import Real

_COMMON = 8
"""Columns that move all sections alike."""
_FARADS = (6, 7)
"""Those of them that move capacitance."""


@dataclass(frozen=True, slots=True)
class Axes:
    """The nuisances of one record: columns of (..., K), each of mean 0 and sd 1."""

    doubt: Doubt
    sections: int
    stretched: int | None = None
    """The section whose metres are open, if those of one are: the last column moves them."""
    stretch: float = 0.0
    """By what part of them, of one standard deviation."""

    @property
    def count(self) -> int:
        return _COMMON + 2 * self.sections + len(self.metres)

    @property
    def metres(self) -> tuple[int, ...]:
        """The column that moves a section's metres, if there is one."""
        return () if self.stretched is None else (_COMMON + 2 * self.sections,)

    @property
    def names(self) -> tuple[str, ...]:
        """What each column moves."""
        common = ("temperature", "gauge", "sheath", "earth", "insulation", "ground lead")
        farads = ("capacitance", "capacitance unbalance")
        each = range(self.sections)
        return (
            *common,
            *farads,
            *(f"section {k}" for k in each),
            *(f"unbalance {k}" for k in each),
            *(f"metres {self.stretched}" for _ in self.metres),
        )

    def felt(self, at_hz: Iterable[float]) -> list[int]:
        """The columns that are felt at any of some frequencies: at 0 Hz capacitance is not."""
        return [each for each in range(self.count) if each not in _FARADS or any(at_hz)]

    def rough(self, hz: float) -> dict[int, float]:
        """A few columns that stand for all, each with what to take it times."""
        of, k = self.doubt, self.sections
        warm = 100 * COPPER_TEMPCO_PER_C.value * of.temperature_c
        if hz:
            return dict.fromkeys((*_FARADS, *self.metres), 1.0)
        alike = hypot(warm, of.gauge_percent, of.section_percent) / warm if warm else 1.0
        apart = dict.fromkeys((*range(_COMMON + k, _COMMON + 2 * k), *self.metres), 1.0)
        return {0: alike, 2: 1.0, 3: 1.0, 4: 1.0, **apart}

    def legs(self, nu: Real) -> tuple[Real, Real]:
        """Factors of the ohms of tip and of ring, (..., sections)."""
        of, k = self.doubt, self.sections
        warm = COPPER_TEMPCO_PER_C.value * of.temperature_c * nu[..., 0:1]
        common = warm + of.gauge_percent / 100 * nu[..., 1:2]
        own = common + of.section_percent / 100 * nu[..., _COMMON : _COMMON + k]
        apart = of.unbalance_percent / 100 * nu[..., _COMMON + k : _COMMON + 2 * k]
        # no conductor is better than a twentieth of what the record says
        return np.maximum(1 + own + apart, 0.05), np.maximum(1 + own - apart, 0.05)

    def sheath(self, nu: Real) -> Real:
        """Factor of the sheath's ohms."""
        return np.asarray(np.exp(np.log1p(self.doubt.sheath_percent / 100) * nu[..., 2]))

    def earth(self, nu: Real) -> Real:
        """Factor of the electrodes' ohms."""
        return np.asarray(self.doubt.earth_factor ** nu[..., 3])

    def insulation(self, nu: Real) -> Real:
        """Factor of the insulation's ohms."""
        return np.asarray(self.doubt.insulation_factor ** nu[..., 4])

    def farads(self, nu: Real) -> tuple[Real, Real, Real]:
        """Factors of the capacitance of tip and of ring to the sheath, and between the legs."""
        common = np.maximum(1 + self.doubt.capacitance_percent / 100 * nu[..., 6], 0.05)
        apart = self.doubt.capacitance_unbalance_percent / 100 * nu[..., 7]
        return common + apart, common - apart, common

    def ground_lead(self, nu: Real) -> Real:
        """Factor of the ground lead's ohms."""
        return np.maximum(1 + self.doubt.ground_lead_percent / 100 * nu[..., 5], 0.05)

    def longer(self, nu: Real, section: int) -> Real:
        """Factor of a section's metres."""
        if section != self.stretched:
            return np.array(1.0)
        return np.maximum(1 + self.stretch * nu[..., self.metres[0]], 0.05)


def axes(record: Record, doubt: Doubt) -> Axes:
    """The nuisances of a record."""
    sections = len(record.plant.section)
    if record.stretched is None:
        return Axes(doubt, sections)
    return Axes(doubt, sections, record.stretched, record.sd_m / record.span_m[1])
