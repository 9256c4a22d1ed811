"""What a suspect leaves open, tiled: small Gaussians on a grid whose sum is flat.

Places lie along the route, ohms along their logarithm; volts are one Gaussian. Where two legs leak
at one place, the ohms of the second stand in the column of volts.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.forecast import OPEN
from farend_sim.drill.expert.hypothesis import Suspect
from line_model.parts import Real

PLACES, PLACES_OF_TWO = 20, 8
"""Tiles along the route; where there are two places, of each."""
_LN_STEP, _LN_STEP_OF_TWO = 1.0, 1.7
"""Tiles are this far apart in the logarithm of ohms, at most."""
_OVERLAP = 0.6
"""Standard deviation of a tile, of their distance: their sum is flat to 1 %."""


@dataclass(frozen=True, slots=True)
class Tiles:
    """Small Gaussians on a grid: means (X, R, 4), and standard deviations (4)."""

    mean: Real
    sd: Real

    @property
    def open(self) -> list[int]:
        """The columns that are open at all."""
        return [column for column in range(OPEN) if self.sd[column] > 0]


def tiles(suspect: Suspect, length_m: float) -> Tiles:
    """Tile what a suspect leaves open."""
    count = PLACES_OF_TWO if suspect.apart else PLACES
    place, place_sd = _tiled(0.0, length_m, count) if suspect.placed else _known(length_m / 2)
    second, second_sd = (place, place_sd) if suspect.apart else _known(0.0)
    ohm, ohm_sd = _known(0.0)
    if suspect.ohm is not None:
        low, high = np.log(suspect.ohm)
        step = _LN_STEP_OF_TWO if suspect.apart else _LN_STEP
        ohm, ohm_sd = _tiled(low, high, int(np.ceil((high - low) / step)))
    mean, sd = suspect.volt or (0.0, 0.0)
    last, last_sd = (ohm, ohm_sd) if suspect.twice else (np.array([mean]), sd)
    grid = np.stack(np.meshgrid(place, second, ohm, last, indexing="ij"), axis=-1)
    tiled = grid[..., [0, 2, 3, 1]].reshape(place.size * second.size, -1, OPEN)
    return Tiles(tiled, np.array([place_sd, ohm_sd, last_sd, second_sd]))


def _tiled(low: float, high: float, count: int) -> tuple[Real, float]:
    step = (high - low) / count
    return np.asarray(low + step * (np.arange(count) + 0.5)), float(_OVERLAP * step)


def _known(value: float) -> tuple[Real, float]:
    return np.array([value]), 0.0
