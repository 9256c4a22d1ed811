"""A uniform stretch of three conductors: exact at a frequency, a ladder of lumps in time.

Both come from one pi-shaped two-port in modal form. With z the series impedances and Y the shunt
Laplacian a metre, S = sqrt(z) and x^2 the eigenvalues of S Y S length^2, the stretch is

- near to far:   B = S^-1 f(x / sinh x) S^-1 / length
- at each end:   A = S^-1 f(x tanh(x / 2)) S^-1 / length

B is split into 1 / (z length) and the small rest f(x / sinh x - 1), so that nothing cancels: the
insulation of a metre of cable stands beside its copper to full precision.
Source: matrix form of the telegrapher's equations, any text on multiconductor lines.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Any

import numpy as np

from line_model.cable import PerMetre
from line_model.parts import Branch, Complex, Element, Part, Real

CONDUCTORS = ("tip", "ring", "sheath")
_LEFT, _RIGHT = (
    ("left.tip", "left.ring", "left.sheath"),
    ("right.tip", "right.ring", "right.sheath"),
)
"""The two ends of a lump, until it stands somewhere."""
_SERIES_BELOW = 0.03
"""|x^2| under which the functions are taken from their series, six terms: 1e-16 of the next."""


def _sinh_rest(square: Complex) -> Complex:
    """Return x / sinh(x) - 1 of x^2, without cancelling near 0."""
    small = np.abs(square) < _SERIES_BELOW
    s = np.where(small, square, 0)
    series = s * (
        -1 / 6 + s * (7 / 360 + s * (-31 / 15120 + s * (127 / 604800 - s * 73 / 3421440)))
    )
    x = np.sqrt(np.where(small, 1, square))
    # x / sinh x in falling exponentials, which cannot overflow on a long line
    return np.where(small, series, 2 * x * np.exp(-x) / -np.expm1(-2 * x) - 1)


def _tanh_end(square: Complex) -> Complex:
    """Return x tanh(x / 2) of x^2."""
    small = np.abs(square) < _SERIES_BELOW
    s = np.where(small, square, 0)
    series = s * (1 / 2 + s * (-1 / 24 + s * (1 / 240 + s * (-17 / 40320 + s * 31 / 725760))))
    x = np.sqrt(np.where(small, 1, square))
    return np.where(small, series, x * np.tanh(x / 2))


@dataclass(frozen=True, slots=True)
class Stretch3(Part):
    """A uniform stretch between two triples of nodes, in the order tip, ring, sheath."""

    near: tuple[str, str, str]
    far: tuple[str, str, str]
    per_metre: PerMetre
    length_m: float
    lumps: int
    leaks: tuple[tuple[str, str, float], ...] = ()
    """Leakage besides the insulation: two conductors and siemens a metre."""

    def exact(self, hz: Real) -> Iterator[Branch]:
        yield from _solved(self, tuple(hz.tolist()))

    def drive(self) -> Iterator[Element]:
        return iter(())

    def lumped(self) -> Iterator[Element]:
        """Lumps that are this stretch at 0 Hz, so settled readings equal the exact DC."""
        posts = [self.near, *(self._post(i) for i in range(1, self.lumps)), self.far]
        dx = self.length_m / self.lumps
        lump = _two_port(self, np.zeros(1), dx, _LEFT, _RIGHT)
        joins = [(a, b, float(siemens[0].real)) for a, b, siemens in lump]
        for left, right in pairwise(posts):
            at = dict(zip((*_LEFT, *_RIGHT), (*left, *right), strict=True))
            for a, b, siemens in joins:
                yield Element("siemens", at[a], at[b], siemens)
            for post in (left, right):
                yield from self._capacitance(post, dx / 2)

    def _post(self, i: int) -> tuple[str, str, str]:
        tip, ring, sheath = (f"{node}.{i}" for node in self.far)
        return tip, ring, sheath

    def _capacitance(self, post: tuple[str, str, str], metres: float) -> Iterator[Element]:
        tip, ring, sheath = post
        per = self.per_metre
        yield Element("farad", tip, sheath, per.tip_sheath_farad * metres)
        yield Element("farad", ring, sheath, per.ring_sheath_farad * metres)
        yield Element("farad", tip, ring, per.tip_ring_farad * metres)


@lru_cache(maxsize=512)
def _solved(stretch: Stretch3, hz: tuple[float, ...]) -> tuple[Branch, ...]:
    """A stretch at some frequencies: the same in every state of whatever is joined to it."""
    return tuple(_two_port(stretch, np.array(hz), stretch.length_m, stretch.near, stretch.far))


def _shunt(stretch: Stretch3, omega: Real) -> Complex:
    """The shunt Laplacian a metre, shape (frequencies, 3, 3) [S/m]."""
    per = stretch.per_metre
    y = np.zeros((omega.size, 3, 3), dtype=complex)
    leg = per.leg_sheath_siemens
    pairs: list[tuple[int, int, Any]] = [
        (0, 2, leg + 1j * omega * per.tip_sheath_farad),
        (1, 2, leg + 1j * omega * per.ring_sheath_farad),
        (0, 1, 1j * omega * per.tip_ring_farad),
    ]
    pairs += [(CONDUCTORS.index(a), CONDUCTORS.index(b), g + 0j) for a, b, g in stretch.leaks]
    for i, j, value in pairs:
        y[:, i, j] -= value
        y[:, j, i] -= value
        y[:, i, i] += value
        y[:, j, j] += value
    return y


def _two_port(
    stretch: Stretch3,
    hz: Real,
    length_m: float,
    near: tuple[str, str, str],
    far: tuple[str, str, str],
) -> Iterator[Branch]:
    per = stretch.per_metre
    omega = 2 * np.pi * hz
    leg = 1j * omega * per.leg_henry
    z = np.stack([per.tip_ohm + leg, per.ring_ohm + leg, per.sheath_ohm + 0 * leg], axis=1)
    root = np.sqrt(z)
    shunt = root[:, :, None] * _shunt(stretch, omega) * root[:, None, :]
    values, vectors = np.linalg.eig(shunt)
    left = vectors / root[:, :, None]
    right = np.linalg.inv(vectors) / root[:, None, :]
    square: Complex = (values * length_m**2).astype(np.complex128)
    across = (left * _sinh_rest(square)[:, None, :]) @ right / length_m
    ends = (left * _tanh_end(square)[:, None, :]) @ right / length_m
    for i in range(3):
        yield Branch(near[i], far[i], across[:, i, i] + 1 / (z[:, i] * length_m))
    for i, j in combinations(range(3), 2):
        mutual = (across[:, i, j] + across[:, j, i]) / 2
        for a, b in ((near[i], far[j]), (near[j], far[i])):
            yield Branch(a, b, mutual)
        end = -(ends[:, i, j] + ends[:, j, i]) / 2 - mutual
        for triple in (near, far):
            yield Branch(triple[i], triple[j], end)
