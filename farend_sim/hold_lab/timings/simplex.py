"""The least of a function of a few numbers, by a simplex: one thin wrapper for all fits."""

from collections.abc import Callable

import numpy as np

from farend_sim.hold_lab.timings.durations import Array

Minus = Callable[[Array], float]


def least_at(minus: Minus, start: Array, close: float = 1e-6) -> tuple[Array, float]:
    """Where a function is least, near a start, and what it is there."""
    from scipy.optimize import minimize

    simplex = np.vstack([start, start + 0.15 * np.eye(len(start))])
    found = minimize(
        minus,
        start,
        method="Nelder-Mead",
        options={
            "xatol": close,
            "fatol": close / 10,
            "maxiter": 4000,
            "initial_simplex": simplex,
        },
    )
    return np.asarray(found.x, dtype=np.float64), float(found.fun)
