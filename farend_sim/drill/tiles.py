"""What a suspect leaves open, tiled: small Gaussians on a grid whose sum is flat.

Places lie along the route, ohms along their logarithm; volts are one Gaussian. Where two legs leak
at one place, the ohms of the second stand in the column of volts.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.drill.hypothesis import Suspect
from line_model.parts import Real

PLACES = 20
"""Tiles along the route."""
_LN_STEP = 1.0
"""Tiles are this far apart in the logarithm of ohms, at most."""
_OVERLAP = 0.6
"""Standard deviation of a tile, of their distance: their sum is flat to 1 %."""


@dataclass(frozen=True, slots=True)
class Tiles:
    """Small Gaussians on a grid: means (X, R, 3), and standard deviations (3)."""

    mean: Real
    sd: Real

    @property
    def open(self) -> list[int]:
        """The columns that are open at all."""
        return [column for column in range(3) if self.sd[column] > 0]


def tiles(suspect: Suspect, length_m: float) -> Tiles:
    """Tile what a suspect leaves open."""
    place, place_sd = _tiled(0.0, length_m, PLACES) if suspect.placed else _known(length_m / 2)
    ohm, ohm_sd = _known(0.0)
    if suspect.ohm is not None:
        low, high = np.log(suspect.ohm)
        ohm, ohm_sd = _tiled(low, high, int(np.ceil((high - low) / _LN_STEP)))
    mean, sd = suspect.volt or (0.0, 0.0)
    last, last_sd = (ohm, ohm_sd) if suspect.twice else (np.array([mean]), sd)
    grid = np.stack(np.meshgrid(place, ohm, last, indexing="ij"), axis=-1)
    return Tiles(grid.reshape(place.size, -1, 3), np.array([place_sd, ohm_sd, last_sd]))


def _tiled(low: float, high: float, count: int) -> tuple[Real, float]:
    step = (high - low) / count
    return np.asarray(low + step * (np.arange(count) + 0.5)), float(_OVERLAP * step)


def _known(value: float) -> tuple[Real, float]:
    return np.array([value]), 0.0
