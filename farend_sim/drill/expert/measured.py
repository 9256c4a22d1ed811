"""Places as the plant really has them, in metres from the near end, whatever its record says.

Law: a suspect's place is weighed along the metres of one record; where a section's own metres are
open, what lies along it and behind it moves with them. This is the one way from there to an answer.
"""

import numpy as np

from farend_sim.drill.expert.likelihood import Belief
from farend_sim.said import length
from line_model.parts import Real


def measured(belief: Belief, column: int) -> tuple[Real, Real]:
    """Means and variances of a place, of each Gaussian (N)."""
    at_m, record = belief.mean[:, column], belief.of.record
    if record.stretched is None:
        return at_m, belief.covariance[:, column, column]
    start_m, long_m = record.span_m
    inside_m = np.clip(at_m - start_m, 0, long_m)
    by_m = _by_m(belief)
    slope = np.zeros(belief.mean.shape)
    slope[:, column] = 1 + by_m / long_m * ((start_m < at_m) & (at_m < start_m + long_m))
    slope[:, -1] = record.sd_m * inside_m / long_m
    variance = np.einsum("ni,nij,nj->n", slope, belief.covariance, slope)
    return at_m + by_m * inside_m / long_m, variance


def route_m(belief: Belief) -> Real:
    """How long the route is, of each Gaussian (N)."""
    return np.asarray(belief.of.record.plant.length_m + _by_m(belief))


def off(belief: Belief, given_m: float) -> str:
    """What the record that was given, of so many metres, has wrong; empty for itself."""
    record = belief.of.record
    if record.stretched is None:
        return record.off
    by_m = float(belief.share @ route_m(belief)) - given_m
    way, some = "longer" if by_m > 0 else "shorter", length(float(f"{abs(by_m):.2g}"))
    return f"section {record.stretched + 1} is some {some} {way} than the record says"


def _by_m(belief: Belief) -> Real:
    """By how much the open section is longer than on the record that is weighed."""
    if belief.of.record.stretched is None:
        return np.zeros(len(belief.mean))
    return np.asarray(belief.of.record.sd_m * belief.mean[:, -1])
