"""What each suspect would make each meter say: volts at the meter's terminals, side by side.

Law: the exact network at 0 Hz, for any places, ohms, volts and nuisances at once. What has no
ohms, volts or place ignores them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.hypothesis import Suspect
from farend_sim.drill.looks import Setting
from farend_sim.drill.meter_law import terminal_volt
from farend_sim.drill.sight import Sight
from line_model.fan import EARTH, Circuit, joined, placed, without_last
from line_model.meters.profile import MeterProfile
from line_model.parts import Real

PLACE, LN_OHM, VOLT = range(3)
"""The columns of what a suspect leaves open (..., 3)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A setting with the range on which its meter stands."""

    setting: Setting
    range: int


@dataclass(frozen=True)
class Forecast:
    """One record, unit and set of meters: what suspects would read."""

    sight: Sight
    meters: Mapping[str, MeterProfile]

    def pairs(self, suspect: Suspect, theta: Real, nu: Real, states: tuple[str, ...]) -> Circuit:
        """The pair seen from its near end in each state: (states, ..., 3)."""
        near = self.sight.near(theta[..., PLACE], nu)
        far = self.sight.far(theta[..., PLACE], nu, states)
        return self.met(suspect, theta, near, far)

    @staticmethod
    def met(suspect: Suspect, theta: Real, near: Circuit, far: Circuit) -> Circuit:
        """Join what is before and what is behind a place where a suspect stands."""
        behind = suspect.onto(far, np.exp(theta[..., LN_OHM]), theta[..., VOLT])
        whole = joined(placed(near, tuple(range(7)), 7), placed(behind, (4, 5, 6, EARTH), 7))
        return without_last(whole, 4)

    def volts(self, pairs: Circuit, states: tuple[str, ...], asked: Sequence[Asked]) -> Real:
        """Volts at the terminals for each asked: (..., M)."""
        columns = []
        for one in asked:
            at = states.index(one.setting.state)
            pair = Circuit(pairs.siemens[at], pairs.amp[at])
            profile = self.meters[one.setting.meter]
            electrical = self.sight.electrical
            columns.append(terminal_volt(pair, profile, one.range, one.setting, electrical))
        # between islands nothing drives a meter but its own source, which stands in `pair` too
        return np.nan_to_num(np.stack(columns, axis=-1))


def states_of(asked: Sequence[Asked]) -> tuple[str, ...]:
    """The states that were asked of, each once."""
    return tuple(dict.fromkeys(one.setting.state for one in asked))
