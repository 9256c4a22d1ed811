"""Slopes of whatever is observed, by what a suspect and a record leave open: small steps aside.

The columns are the four that a suspect leaves open, then the record's nuisances.
"""

from collections.abc import Sequence

import numpy as np

from farend_sim.drill.expert.forecast import LN_OHM, OPEN, PLACE, SECOND, VOLT
from line_model.parts import Real


class Steps:
    """A small step in each column."""

    def __init__(self, nuisances: int) -> None:
        self.count = OPEN + nuisances
        self._step = np.full(self.count, 0.05)
        self._step[[PLACE, SECOND]], self._step[[LN_OHM, VOLT]] = 0.5, 1e-3

    def moved(self, theta: Real, nu: Real, columns: Sequence[int]) -> tuple[Real, Real]:
        """Points (..., 4) and nuisances (..., K), then the same with each column moved in turn."""
        theta = np.repeat(theta[None], 1 + len(columns), axis=0)
        nu = np.repeat(nu[None], 1 + len(columns), axis=0)
        for row, column in enumerate(columns, start=1):
            moved = theta if column < OPEN else nu
            moved[row, ..., column if column < OPEN else column - OPEN] += self._step[column]
        return theta, nu

    def slope(self, values: Real, columns: Sequence[int]) -> Real:
        """Slopes (..., 4 + K) from values there (1 + columns, ...); nought in any other column."""
        slope = np.zeros((*values.shape[1:], self.count))
        for row, column in enumerate(columns, start=1):
            slope[..., column] = (values[row] - values[0]) / self._step[column]
        return slope
