"""A uniform stretch of conductors as a two-port, for any number of stretches side by side.

In modal form: with z the series impedances and Y the shunt Laplacian a metre, S = sqrt(z) and x^2
the eigenvalues of S Y S length^2, the stretch is

- near to far:   B = S^-1 f(x / sinh x) S^-1 / length
- at each end:   A = S^-1 f(x tanh(x / 2)) S^-1 / length

B is split into 1 / (z length) and the small rest f(x / sinh x - 1), so that nothing cancels: the
insulation of a metre of cable stands beside its copper to full precision.
Source: matrix form of the telegrapher's equations, any text on multiconductor lines.
"""

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Values = NDArray[Any]
"""Real at 0 Hz, complex at a frequency."""
_SERIES_BELOW = 0.03
"""|x^2| under which the functions are taken from their series, six terms: 1e-16 of the next."""


class Metre(NamedTuple):
    """A metre of n conductors in its modes: alike for every length of it."""

    series: Values
    """Impedance of each conductor (..., n) [ohm/m]."""
    left: Values
    """From modes to conductors (..., n, n)."""
    right: Values
    """From conductors to modes (..., n, n)."""
    square: Values
    """Each mode's x^2 (..., n) [1/m2]."""


def two_port(series: Values, shunt: Values, length_m: Values | float) -> Values:
    """Branches among near and then far ends of n conductors, shape (..., 2 n, 2 n) [S].

    Args:
        series: impedance a metre of each conductor (..., n) [ohm/m].
        shunt: admittance a metre between each two (..., n, n), nothing on the diagonal [S/m].
        length_m: (...).
    """
    across, ends = branches(metre(series, shunt), length_m)
    n = series.shape[-1]
    port = np.empty((*across.shape[:-2], 2 * n, 2 * n), dtype=across.dtype)
    port[..., :n, :n] = port[..., n:, n:] = ends
    port[..., :n, n:] = port[..., n:, :n] = across
    return port


def branches(of: Metre, length_m: Values | float) -> tuple[Values, Values]:
    """A length of what is known by the metre: from near to far, and at each end (..., n, n)."""
    length_m = np.asarray(length_m, dtype=float)[..., None, None]
    own = np.arange(of.series.shape[-1])
    square = of.square * length_m[..., 0] ** 2
    across = _even((of.left * _sinh_rest(square)[..., None, :]) @ of.right / length_m)
    ends = -_even((of.left * _tanh_end(square)[..., None, :]) @ of.right / length_m) - across
    ends[..., own, own] = 0
    across[..., own, own] += 1 / (of.series * length_m[..., 0])
    return across, ends


def metre(series: Values, shunt: Values) -> Metre:
    """A metre of conductors, as for `two_port`."""
    root = np.sqrt(series)
    laplacian = -shunt
    own = np.arange(series.shape[-1])
    laplacian[..., own, own] = shunt.sum(axis=-1)
    modal = root[..., :, None] * laplacian * root[..., None, :]
    if np.iscomplexobj(modal):
        values, vectors = np.linalg.eig(modal)
        back = np.linalg.inv(vectors)
    else:
        values, vectors = np.linalg.eigh(modal)
        # rounding may put the mode that leaks nothing below nothing
        values, back = np.maximum(values, 0.0), np.swapaxes(vectors, -1, -2)
    return Metre(series, vectors / root[..., :, None], back / root[..., None, :], values)


def _even(matrix: Values) -> Values:
    """What rounding has made a little lopsided, made symmetric again."""
    return (matrix + np.swapaxes(matrix, -1, -2)) / 2


def _sinh_rest(square: Values) -> Values:
    """Return x / sinh(x) - 1 of x^2, without cancelling near 0."""
    small = np.abs(square) < _SERIES_BELOW
    s = np.where(small, square, 0)
    series = s * (
        -1 / 6 + s * (7 / 360 + s * (-31 / 15120 + s * (127 / 604800 - s * 73 / 3421440)))
    )
    x = np.sqrt(np.where(small, 1, square))
    # x / sinh x in falling exponentials, which cannot overflow on a long line
    return np.where(small, series, 2 * x * np.exp(-x) / -np.expm1(-2 * x) - 1)


def _tanh_end(square: Values) -> Values:
    """Return x tanh(x / 2) of x^2."""
    small = np.abs(square) < _SERIES_BELOW
    s = np.where(small, square, 0)
    series = s * (1 / 2 + s * (-1 / 24 + s * (1 / 240 + s * (-17 / 40320 + s * 31 / 725760))))
    x = np.sqrt(np.where(small, 1, square))
    return np.where(small, series, x * np.tanh(x / 2))
