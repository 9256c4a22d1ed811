"""A capacitance meter: what of the current at its frequency is at right angles.

Law: the imaginary part of the admittance between its leads, over the angular frequency. Where a
leak spoils it the display has no number, and that is left to other meters.
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from farend_sim.drill.expert.laws.base import TWO, UNIFORM, Asked, Seen, at_ends, leads
from farend_sim.drill.expert.looks import TWO_ENDS, Look, Setting
from farend_sim.unit.profile import Electrical
from line_model.fan import Circuit
from line_model.meters.capacitance import Capacitance
from line_model.meters.leads import joined as led
from line_model.parts import Real
from line_model.terminals import NEAR


@dataclass(frozen=True, slots=True)
class FaradLaw:
    """One capacitance meter."""

    profile: Capacitance
    unit: Electrical

    @property
    def hz(self) -> float:
        return self.profile.test_hz

    def hookups(self) -> tuple[str, ...]:
        return TWO_ENDS

    def observed(self, pair: Circuit, asked: Asked) -> Real:
        """Nanofarad between the leads."""
        return self._nf(self._met(pair, asked.setting))

    def seen(self, look: Look) -> Seen | None:
        if look.value is None:
            return None
        profile, scales = self.profile, self.profile.scales()
        at = next((i for i, s in enumerate(scales) if abs(look.value) <= s.full), len(scales) - 1)
        counts = (0.5 + profile.accuracy_counts) * scales[at].step / UNIFORM
        sd = float(np.hypot(counts, look.spread))
        return Seen(at, look.value, sd, look.value * profile.accuracy_percent / 100 / UNIFORM)

    def readable(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        met = self._met(pair, setting)
        nf = self._nf(met)
        leaky = np.abs(met.real) > self.profile.loss_limit_percent / 100 * np.abs(met.imag)
        counts = (0.5 + self.profile.accuracy_counts) * self.profile.scales()[0].step
        sd = np.hypot(counts, self.profile.accuracy_percent / 100 * nf) / UNIFORM
        over = np.abs(nf) > self.profile.scales()[-1].full
        return np.where(leaky | over, -1e3, nf), np.where(leaky | over, 1.0, sd)

    def _nf(self, siemens: Real) -> Real:
        return np.asarray(siemens.imag / (2 * pi * self.hz) * 1e9)

    def _met(self, pair: Circuit, setting: Setting) -> Real:
        parts = led(setting.across, NEAR, self.profile.lead_ohm)
        met = at_ends(pair, leads(parts, TWO, setting.lead, self.hz, self.unit), TWO)
        return met.between(*TWO)
