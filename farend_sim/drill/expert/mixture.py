"""Sums of Gaussians of one number: what lies below a value, and the band that holds most of it."""

from dataclasses import dataclass

import numpy as np

from line_model.parts import Real

BAND = 0.95
"""What share of the posterior a band holds."""
_GRID, _SHARP = 400, 10.0
"""Points of a grid of the whole; a Gaussian under so many of its steps has points of its own."""


@dataclass(frozen=True, slots=True)
class Mixture:
    """A sum of Gaussians of one column."""

    share: Real
    mean: Real
    sd: Real
    low: float = -np.inf
    high: float = np.inf

    def quantiles(self, *parts: float) -> list[float]:
        """Where so much of it lies below; inside its limits."""
        at, below = self._curve()
        return [float(np.interp(part, below, at)) for part in parts]

    def below(self, value: float) -> float:
        """How much of it lies below a value."""
        at, below = self._curve()
        return float(np.interp(value, at, below))

    def _curve(self) -> tuple[Real, Real]:
        from scipy.special import ndtr

        reach = 5 * self.sd.max()
        low = max(self.low, float((self.mean - reach).min()))
        high = min(self.high, float((self.mean + reach).max()))
        at = np.unique(np.concatenate([np.linspace(low, high, _GRID), self._around(low, high)]))
        sd = np.maximum(self.sd, 1e-9)
        below = ndtr((at[:, None] - self.mean) / sd) @ self.share
        return at, (below - below[0]) / max(below[-1] - below[0], 1e-300)

    def _around(self, low: float, high: float) -> Real:
        """Points close about each Gaussian: a grid of the whole may miss a sharp one."""
        sharp = self.sd < _SHARP * (high - low) / _GRID
        turns = np.linspace(-4, 4, 33)
        return np.clip(self.mean[sharp, None] + turns * self.sd[sharp, None], low, high).ravel()


@dataclass(frozen=True, slots=True)
class Band:
    """A median, and what holds BAND of the posterior around it."""

    at: float
    low: float
    high: float

    @property
    def half(self) -> float:
        """The further of its ends from the median."""
        return max(self.at - self.low, self.high - self.at)


def band(mixture: Mixture) -> Band:
    """The band of a sum."""
    edge = (1 - BAND) / 2
    low, at, high = mixture.quantiles(edge, 0.5, 1 - edge)
    return Band(at, low, high)
