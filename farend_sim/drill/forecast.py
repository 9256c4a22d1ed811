"""What each suspect would make each meter say, side by side.

Law: the exact network, for any places, ohms, volts and nuisances at once. What has no
ohms, volts or place ignores them. Points are (..., R, 4): along R only ohms and volts differ, so
that what is before and behind a place is worked out once for all of them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.hypothesis import Suspect, leaking
from farend_sim.drill.laws import Asked, Law
from farend_sim.drill.looks import Setting
from farend_sim.drill.sight import Sight
from line_model.fan import EARTH, Circuit, joined, placed, without_last
from line_model.parts import Real

PLACE, LN_OHM, VOLT, SECOND = range(4)
"""The columns of what a suspect leaves open; SECOND is a second place."""
OPEN = 4
"""How many they are."""
Channel = tuple[str, float]
"""The unit's state, and the frequency that is looked at."""
Pairs = Mapping[Channel, Circuit]
"""Pairs seen from their near end (..., R, 3)."""


@dataclass(frozen=True)
class Forecast:
    """One record, unit and set of meters: what suspects would read."""

    sight: Sight
    meters: Mapping[str, Law]

    def channel(self, setting: Setting) -> Channel:
        """What must be known of a pair to tell a setting's reading."""
        return setting.state, self.meters[setting.meter].hz

    def pairs(self, suspect: Suspect, theta: Real, nu: Real, channels: Iterable[Channel]) -> Pairs:
        """The pair seen from its near end.

        Args:
            suspect: what stands on it.
            theta: place, logarithm of ohms, volts, second place (..., R, 4).
            nu: the record's nuisances (..., K).
            channels: states and frequencies.
        """
        asked = tuple(dict.fromkeys(channels))
        found: dict[Channel, Circuit] = {}
        for hz in dict.fromkeys(hz for _, hz in asked):
            states = tuple(state for state, at_hz in asked if at_hz == hz)
            seen = self._seen(suspect, theta, nu, states, hz)
            for i, state in enumerate(states):
                found[state, hz] = Circuit(seen.siemens[i], seen.amp[i])
        return found

    def _seen(
        self, suspect: Suspect, theta: Real, nu: Real, states: tuple[str, ...], hz: float
    ) -> Circuit:
        at_m, ohm, volt = theta[..., 0, PLACE], np.exp(theta[..., LN_OHM]), theta[..., VOLT]
        if suspect.apart:
            at_m, behind = self._apart(theta, nu, states, hz)
        else:
            behind = suspect.onto(_along(self.sight.far(at_m, nu, states, hz)), ohm, volt)
        near = _along(self.sight.near(at_m, nu, hz))
        return without_last(_before(near, behind), 4)

    def _apart(
        self, theta: Real, nu: Real, states: tuple[str, ...], hz: float
    ) -> tuple[Real, Circuit]:
        """The nearer of two places, and the front there: a leg leaks at each of them."""
        tip_m, ring_m = theta[..., 0, PLACE], theta[..., 0, SECOND]
        first_m, last_m = np.minimum(tip_m, ring_m), np.maximum(tip_m, ring_m)
        each = (np.exp(-theta[..., LN_OHM]), np.exp(-theta[..., VOLT]))
        here = np.asarray(tip_m <= ring_m, float)[..., None]
        behind = _along(self.sight.far(last_m, nu, states, hz))
        behind = leaking(behind, each[0] * (1 - here), each[1] * here)
        between = _along(self.sight.between(first_m, last_m, nu, hz))
        behind = without_last(_before(between, behind), 3)
        return first_m, leaking(behind, each[0] * here, each[1] * (1 - here))

    def observed(self, pairs: Pairs, asked: Asked) -> Real:
        """What a meter's law observes (..., R)."""
        setting = asked.setting
        return self.meters[setting.meter].observed(pairs[self.channel(setting)], asked)

    def readable(self, pairs: Pairs, setting: Setting) -> tuple[Real, Real]:
        """What a meter would show, and how surely (..., R)."""
        return self.meters[setting.meter].readable(pairs[self.channel(setting)], setting)


def _before(near: Circuit, behind: Circuit) -> Circuit:
    """What leads to a place, joined to the front there: seven nodes."""
    return joined(placed(near, tuple(range(7)), 7), placed(behind, (4, 5, 6, EARTH), 7))


def _along(circuit: Circuit) -> Circuit:
    """A circuit with an axis for ohms and volts."""
    return Circuit(circuit.siemens[..., None, :, :], circuit.amp[..., None, :])
