"""Ohmmeters and voltmeters for DC: volts at the meter's own terminals.

Law: there a leak is a leak and an open is the source's own voltage: nothing is infinite, and a
foreign battery that drives an ohmmeter below nought is no special case. A pair is to two test leads
a conductance and a current, whatever is on it: every range of every meter follows from these two.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.laws.base import TWO, UNIFORM, Asked, Seen, at_ends, leads
from farend_sim.drill.expert.looks import TWO_ENDS, Look, Setting
from farend_sim.unit.profile import Electrical
from line_model.fan import Circuit
from line_model.meters.cycle import Own
from line_model.meters.display import OVER
from line_model.meters.leads import joined as led
from line_model.meters.ohms import Ohms
from line_model.meters.volts import Volts
from line_model.parts import Real
from line_model.terminals import NEAR

_LEAST_VOLT = 1e-6
_KNEE_VOLT, _KNEE_OHM = 0.05, 5.0
"""Under these a difference counts for itself, above for its share."""


@dataclass(frozen=True, slots=True)
class DirectLaw:
    """One ohmmeter or voltmeter."""

    profile: Ohms | Volts
    unit: Electrical

    @property
    def hz(self) -> float:
        return 0.0

    def hookups(self) -> tuple[str, ...]:
        return TWO_ENDS

    def observed(self, pair: Circuit, asked: Asked) -> Real:
        """Volts at the meter's terminals on one range."""
        met = self._met(pair, asked.setting)
        return self._volt_on(*met, np.array(asked.range))

    def seen(self, look: Look) -> Seen | None:
        """A number, turned back into volts at the meter's terminals."""
        profile, scales = self.profile, self.profile.scales()
        top = len(scales) - 1
        if look.value is None:
            return self._over(top) if isinstance(profile, Ohms) else None
        at = next((i for i, scale in enumerate(scales) if abs(look.value) <= scale.full), top)
        own = Own(zeroed=look.setting.zeroed, across=look.setting.across)
        # what the display has taken off is put back: what it shows of nothing at all, turned about
        value = look.value - profile.value(at, (0.0,), own)
        slope = self._slope(at, value)
        counts = (0.5 + profile.accuracy_counts) * scales[at].step / UNIFORM
        sd = slope * float(np.hypot(counts, look.spread)) + _LEAST_VOLT
        gain = profile.accuracy_percent / 100 / UNIFORM
        return Seen(at, self._volt(at, value), sd, slope * value * gain)

    def readable(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        """Logarithms of ohms, with all that is over in one place; the inverse sine of volts."""
        index, volt = self._displayed(*self._met(pair, setting))
        steps = np.array([scale.step for scale in self.profile.scales()])[index]
        counts = (0.5 + self.profile.accuracy_counts) * steps / UNIFORM
        gain = self.profile.accuracy_percent / 100 / UNIFORM
        if isinstance(self.profile, Volts):
            sd = np.hypot(counts, gain * volt) / np.hypot(volt, _KNEE_VOLT)
            return np.arcsinh(volt / _KNEE_VOLT), sd
        most = self.profile.scales()[-1].full * OVER
        ohm = self._ohm(index, volt)
        # below nought and over range alike: a display that says nothing of a resistance
        ohm = np.where((ohm >= 0) & (ohm <= most), ohm, most)
        return np.log(ohm + _KNEE_OHM), np.hypot(counts, gain * ohm) / (ohm + _KNEE_OHM)

    # -- what the leads meet -------------------------------------------------------------------

    def _met(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        """Siemens between the leads, and the amperes that drive the first one up."""
        parts = led(setting.across, NEAR, self.profile.lead_ohm)
        seen = at_ends(pair, leads(parts, TWO, setting.lead, 0.0, self.unit), TWO)
        return seen.between(*TWO), (seen.into(TWO[0]) - seen.into(TWO[1])) / 2

    def _displayed(self, siemens: Real, amp: Real) -> tuple[Real, Real]:
        """Where it ranges to, and the volts there: up while it is over full scale."""
        index = np.zeros(np.shape(siemens), dtype=int)
        for at, scale in enumerate(self.profile.scales()[:-1]):
            volt = self._volt_on(siemens, amp, np.array(at))
            shown = self._ohm(np.array(at), volt) if isinstance(self.profile, Ohms) else volt
            index = np.where((index == at) & (np.abs(shown) > scale.full), at + 1, index)
        return index, self._volt_on(siemens, amp, index)

    def _inside(self, index: Real) -> tuple[Real, Real]:
        """Volts and ohms of the source inside."""
        volts = [getattr(at, "source_volt", 0.0) for at in self.profile.range]
        return np.array(volts)[index], np.array([at.internal_ohm for at in self.profile.range])[
            index
        ]

    def _volt_on(self, siemens: Real, amp: Real, index: Real) -> Real:
        source_volt, internal_ohm = self._inside(index)
        return np.asarray((amp + source_volt / internal_ohm) / (siemens + 1 / internal_ohm))

    def _ohm(self, index: Real, volt: Real) -> Real:
        source_volt, internal_ohm = self._inside(index)
        short = source_volt - volt
        safe = np.where(short == 0, 1.0, short)
        return np.where(short == 0, np.inf, internal_ohm * volt / safe)

    # -- what a number says --------------------------------------------------------------------

    def _over(self, top: int) -> Seen:
        """Over range: anything so close to the source's own voltage."""
        source_volt, internal_ohm = (float(of) for of in self._inside(np.array(top)))
        most = self.profile.scales()[top].full * OVER
        slack = source_volt * internal_ohm / (most + internal_ohm)
        return Seen(top, source_volt, 0.02 * slack, 0.0, slack)

    def _volt(self, index: int, value: float) -> float:
        source_volt, internal_ohm = (float(of) for of in self._inside(np.array(index)))
        if isinstance(self.profile, Volts):
            return value
        return source_volt * value / (value + internal_ohm)

    def _slope(self, index: int, value: float) -> float:
        """Volts for each of the display's unit."""
        source_volt, internal_ohm = (float(of) for of in self._inside(np.array(index)))
        if isinstance(self.profile, Volts):
            return 1.0
        return abs(source_volt * internal_ohm / (value + internal_ohm) ** 2)
