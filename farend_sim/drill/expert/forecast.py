"""What each suspect would make each meter say, side by side.

Law: the exact network, for any places, ohms, volts and nuisances at once. What has no
ohms, volts or place ignores them. Points are (..., R, 4): along R only ohms and volts differ, so
that what is before and behind a place is worked out once for all of them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.hypothesis import Suspect, leaking
from farend_sim.drill.expert.laws import Asked, Law
from farend_sim.drill.expert.looks import Setting
from farend_sim.drill.expert.sides import LAST, NEAR, Sides
from farend_sim.drill.expert.sight import Sight, front_at
from line_model.fan import FRONT, Circuit, joined, seen_from, spread
from line_model.parts import Real

PLACE, LN_OHM, VOLT, SECOND = range(4)
"""The columns of what a suspect leaves open; SECOND is a second place."""
OPEN = 4
"""How many they are."""
_AS_FRONT = dict(zip(NEAR, FRONT, strict=True))
Channel = tuple[str, float]
"""The unit's state, and the frequency that is looked at."""
Pairs = Mapping[Channel, Circuit]
"""Pairs seen from their near end (..., R)."""


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
        states: dict[float, dict[str, None]] = {}
        for state, hz in channels:
            states.setdefault(hz, {})[state] = None
        found: dict[Channel, Circuit] = {}
        for hz, asked in states.items():
            sides = self.sides(suspect, theta, nu, hz)
            found |= self.pairs_between(sides, suspect, theta, tuple(asked))
        return found

    def sides(self, suspect: Suspect, theta: Real, nu: Real, hz: float) -> Sides:
        """What lies before and behind a suspect's places, at one frequency."""
        first_m = last_m = theta[..., 0, PLACE]
        if suspect.apart:
            second_m = theta[..., 0, SECOND]
            first_m, last_m = np.minimum(first_m, second_m), np.maximum(first_m, second_m)
        return Sides(self.sight, first_m, last_m, nu, hz)

    def pairs_between(
        self, sides: Sides, suspect: Suspect, theta: Real, states: tuple[str, ...]
    ) -> dict[Channel, Circuit]:
        """The pair with a suspect between two sides that are known, in some states."""
        # ohms and volts are the outermost axis and states the next: what is alike along these is
        # worked out once, and what is not in long runs
        outer = np.moveaxis(theta, -2, 0)[:, None]
        ohm, volt = np.exp(outer[..., LN_OHM]), np.ascontiguousarray(outer[..., VOLT])
        far = sides.far(states)
        if suspect.apart:
            tip_first = np.asarray(theta[..., 0, PLACE] <= theta[..., 0, SECOND], float)
            behind = _apart(sides.between, far, 1 / ohm, np.exp(-volt), tip_first)
        else:
            behind = suspect.onto(far, ohm, volt)
        seen = seen_from(joined(sides.near, behind), NEAR).renamed(_AS_FRONT)
        shape = np.broadcast_shapes(ohm.shape, (len(states), *[1] * (ohm.ndim - 2)))
        whole = spread(seen, FRONT, shape)
        return {(state, sides.hz): _in_state(whole, i) for i, state in enumerate(states)}

    def observed(self, pairs: Pairs, asked: Asked) -> Real:
        """What a meter's law observes (..., R)."""
        setting = asked.setting
        return self.meters[setting.meter].observed(pairs[self.channel(setting)], asked)

    def readable(self, pairs: Pairs, setting: Setting) -> tuple[Real, Real]:
        """What a meter would show, and how surely (..., R)."""
        return self.meters[setting.meter].readable(pairs[self.channel(setting)], setting)


def _in_state(seen: Circuit, i: int) -> Circuit:
    """Pairs in one of several states (..., R)."""
    return seen.each(lambda value: value[:, i].transpose(*range(1, value.ndim - 1), 0))


def _apart(between: Circuit, far: Circuit, tip: Real, ring: Real, tip_first: Real) -> Circuit:
    """The front at the nearer of two places: a leg leaks at each of them."""
    there = joined(far, leaking(tip * (1 - tip_first), ring * tip_first))
    here = leaking(tip * tip_first, ring * (1 - tip_first))
    return joined(between, there.renamed(front_at(LAST)), here)
