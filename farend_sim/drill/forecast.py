"""What each suspect would make each meter say, side by side.

Law: the exact network, for any places, ohms, volts and nuisances at once. What has no
ohms, volts or place ignores them. Points are (..., R, 3): along R only ohms and volts differ, so
that what is before and behind a place is worked out once for all of them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.hypothesis import Suspect
from farend_sim.drill.laws import Asked, Law
from farend_sim.drill.looks import Setting
from farend_sim.drill.sight import Sight
from line_model.fan import EARTH, Circuit, joined, placed, without_last
from line_model.parts import Real

PLACE, LN_OHM, VOLT = range(3)
"""The columns of what a suspect leaves open."""
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
            theta: place, logarithm of ohms, volts (..., R, 3).
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
        at_m = theta[..., 0, PLACE]
        near = _along(self.sight.near(at_m, nu, hz))
        far = _along(self.sight.far(at_m, nu, states, hz))
        behind = suspect.onto(far, np.exp(theta[..., LN_OHM]), theta[..., VOLT])
        whole = joined(placed(near, tuple(range(7)), 7), placed(behind, (4, 5, 6, EARTH), 7))
        return without_last(whole, 4)

    def observed(self, pairs: Pairs, asked: Asked) -> Real:
        """What a meter's law observes (..., R)."""
        setting = asked.setting
        return self.meters[setting.meter].observed(pairs[self.channel(setting)], asked)

    def readable(self, pairs: Pairs, setting: Setting) -> tuple[Real, Real]:
        """What a meter would show, and how surely (..., R)."""
        return self.meters[setting.meter].readable(pairs[self.channel(setting)], setting)


def _along(circuit: Circuit) -> Circuit:
    """A circuit with an axis for ohms and volts."""
    return Circuit(circuit.siemens[..., None, :, :], circuit.amp[..., None, :])
