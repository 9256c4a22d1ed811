"""Gaussians and linear readings of them: how likely readings are, and what they leave.

Law: covariances are scaled to even numbers before they are solved, so that a volt beside a gigohm
keeps its digits.
"""

import numpy as np

from farend_sim.drill.expert.readings import Readings
from line_model.parts import Real

_ROUNDING = 1e-9


def miss(of: Readings, at: Real) -> Real:
    """How far readings are from a forecast; a display that is over leaves room."""
    by = of.value - at
    return np.asarray(np.sign(by) * np.maximum(np.abs(by) - of.slack, 0.0))


def log_density(miss: Real, covariance: Real) -> tuple[Real, Real]:
    """The logarithm of the density (N), and each reading's miss, given those before it (N, M)."""
    covariance = _sound(covariance)
    scale = np.sqrt(np.diagonal(covariance, axis1=-2, axis2=-1))
    root = np.linalg.cholesky(covariance / (scale[..., :, None] * scale[..., None, :]))
    white = np.linalg.solve(root, (miss / scale)[..., None])[..., 0]
    size = 2 * np.log(scale * np.diagonal(root, axis1=-2, axis2=-1)).sum(axis=-1)
    return np.asarray(-0.5 * ((white**2).sum(axis=-1) + size)), np.asarray(white)


def _sound(covariance: Real) -> Real:
    """A covariance that rounding cannot take below nought: each spread a little wider."""
    wider = np.eye(covariance.shape[-1]) * _ROUNDING
    return np.asarray(covariance * (1 + wider))


def updated(miss: Real, slope: Real, of: Readings) -> tuple[Real, Real, Real, Real]:
    """A linear update of unit priors: the shift, the evidence, the covariance, each miss."""
    noise = of.gain @ of.gain.T + np.diag(of.sd**2)
    covariance = _sound(slope @ np.swapaxes(slope, -1, -2) + noise)
    scale = np.sqrt(np.diagonal(covariance, axis1=-2, axis2=-1))
    even = covariance / (scale[..., :, None] * scale[..., None, :])
    solved = np.linalg.solve(even, slope / scale[..., None]) / scale[..., None]
    gain = np.swapaxes(solved, -1, -2)
    shift = np.einsum("nkm,nm->nk", gain, miss)
    left = np.eye(slope.shape[-1]) - gain @ slope
    log, white = log_density(miss, covariance)
    return shift, log, (left + np.swapaxes(left, -1, -2)) / 2, white
