"""Every tile of every suspect weighed roughly, as seen from its own centre.

Law: what does not depend on readings is worked out once for a record: what lies on both sides of
the tiles' places once for all suspects that share these, a suspect's pair once for each channel,
what a meter observes of it once for each way it is asked. A tile's width is one more doubt.
"""

from collections.abc import Sequence

import numpy as np

from farend_sim.drill.expert.forecast import (
    LN_OHM,
    OPEN,
    PLACE,
    SECOND,
    VOLT,
    Channel,
    Forecast,
    Pairs,
)
from farend_sim.drill.expert.gaussians import log_density, miss
from farend_sim.drill.expert.hypothesis import Suspect
from farend_sim.drill.expert.laws import Asked
from farend_sim.drill.expert.readings import Readings
from farend_sim.drill.expert.sides import Sides
from farend_sim.drill.expert.slopes import Steps
from farend_sim.drill.expert.tiles import tiles
from line_model.parts import Real

_BENT, _BENT_METRES = 0.3, 0.1
"""Over a tile, and less over a section's open metres, the network bends: this share of what a
straight line says across it is no evidence against it. Invented for the demo."""


class Screening:
    """All suspects' tiles on one record."""

    def __init__(self, forecast: Forecast, suspects: Sequence[Suspect]) -> None:
        self._forecast, self._suspects = forecast, tuple(suspects)
        self._steps = Steps(forecast.sight.axes.count)
        self._tiles = [tiles(each, forecast.sight.record.length_m) for each in self._suspects]
        self._sides: dict[tuple[bytes, float], Sides] = {}
        self._pairs: dict[tuple[int, Channel], Pairs] = {}
        self._observed: dict[tuple[int, Asked], tuple[Real, Real, Real]] = {}

    def weighed(self, of: Readings) -> list[Real]:
        """Of every suspect's every tile (X, R), its evidence as seen from its centre."""
        return [self._weighed(index, of) for index in range(len(self._suspects))]

    def _weighed(self, index: int, of: Readings) -> Real:
        each = [self._at_centres(index, one) for one in of.asked]
        at, bent = (np.stack([one[k] for one in each], axis=-1) for k in (0, 1))
        spread = np.stack([spread for _, _, spread in each], axis=-2)
        noise = np.hypot(of.sd, bent)
        covariance = spread @ np.swapaxes(spread, -1, -2) + of.gain @ of.gain.T
        covariance = covariance + noise[..., None] ** 2 * np.eye(noise.shape[-1])
        return log_density(miss(of, at), covariance)[0]

    def _at_centres(self, index: int, asked: Asked) -> tuple[Real, Real, Real]:
        """What is observed at every tile's centre, its bend (X, R), its spread (X, R, 4 + K)."""
        if (known := self._observed.get((index, asked))) is None:
            channel = self._forecast.channel(asked.setting)
            values = self._forecast.observed(self._pairs_at(index, channel), asked)
            sd = np.zeros(self._steps.count)
            sd[:OPEN] = self._tiles[index].sd
            for column, times in self._forecast.sight.axes.rough(channel[1]).items():
                sd[OPEN + column] = times
            spread = self._steps.slope(values, self._columns(index, channel[1])) * sd
            bent = _BENT * np.abs(spread[..., :OPEN]).sum(axis=-1)
            for column in self._forecast.sight.axes.metres:
                bent += _BENT_METRES * np.abs(spread[..., OPEN + column])
            known = self._observed[index, asked] = values[0], bent, spread
        return known

    def _columns(self, index: int, hz: float) -> list[int]:
        """What is moved at tiles' centres, of nuisances the few that stand for all.

        It is alike for all suspects at the same places, so that they share both sides of these.
        """
        second = [SECOND] if self._suspects[index].apart else []
        few = self._forecast.sight.axes.rough(hz)
        return [PLACE, LN_OHM, VOLT, *second, *(OPEN + column for column in few)]

    def _pairs_at(self, index: int, channel: Channel) -> Pairs:
        """A suspect's pairs at tiles' centres and with each column moved (1 + C, X, R)."""
        if (known := self._pairs.get((index, channel))) is None:
            suspect, (state, hz) = self._suspects[index], channel
            nu = np.zeros((1, self._forecast.sight.axes.count))
            mean = self._tiles[index].mean
            theta, nu = self._steps.moved(mean, nu, self._columns(index, hz))
            place = mean[:, 0, [PLACE, SECOND]].tobytes(), hz
            if place not in self._sides:
                self._sides[place] = self._forecast.sides(suspect, theta, nu, hz)
            known = self._forecast.pairs_between(self._sides[place], suspect, theta, (state,))
            self._pairs[index, channel] = known
        return known
