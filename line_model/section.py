"""A uniform stretch of a pair, its sheath and neighbours: exact at a frequency, lumps in time.

Both come from one pi-shaped two-port in modal form. With z the series impedances and Y the shunt
Laplacian a metre, S = sqrt(z) and x^2 the eigenvalues of S Y S length^2, the stretch is

- near to far:   B = S^-1 f(x / sinh x) S^-1 / length
- at each end:   A = S^-1 f(x tanh(x / 2)) S^-1 / length

B is split into 1 / (z length) and the small rest f(x / sinh x - 1), so that nothing cancels: the
insulation of a metre of cable stands beside its copper to full precision. A neighbour in the same
cable is two conductors more, and nothing else.
Source: matrix form of the telegrapher's equations, any text on multiconductor lines.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise, product
from math import ceil, sqrt

import numpy as np

from line_model.beside import ALONE, Beside
from line_model.cable import PerMetre
from line_model.parts import Block, Complex, Element, Part, Real

CONDUCTORS = ("tip", "ring", "sheath")
SHEATH = 2
"""The sheath's number among conductors."""
Nodes = tuple[str, ...]
"""A node for each conductor: tip, ring, sheath, then both legs of each neighbour."""
SLOW_S = (2.0, 10.0, 45.0)
"""Time constants of what insulation soaks up, in equal parts [s]: invented for the demo."""
SHORTEST_US = 500
"""The shortest time after a switch at which a reading is asked for [us]."""
LUMP_ERROR = 5e-5
"""A lump's error at that time: doubling the lumps then moves a reading under 0.1 % (tested)."""
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


def lumps(per: PerMetre, length_m: float) -> int:
    """How many lumps a stretch needs in time.

    Diffusion over a lump of length h is wrong by about r c h^2 / (12 t) at a time t after a
    switch; h is chosen so that this is LUMP_ERROR at SHORTEST_US. No search at run time.
    """
    farad = per.tip_ring_farad + max(per.tip_sheath_farad, per.ring_sheath_farad)
    worst = (per.tip_ohm + per.ring_ohm) * farad
    return max(1, ceil(length_m * sqrt(worst / (12 * LUMP_ERROR * SHORTEST_US * 1e-6))))


@dataclass(frozen=True, slots=True)
class Conductors(Part):
    """A uniform stretch between two rows of nodes: tip, ring, sheath, then neighbours' legs."""

    near: Nodes
    far: Nodes
    per_metre: PerMetre
    length_m: float
    lumps: int
    leaks: tuple[tuple[str, str, float], ...] = ()
    """Leakage besides the insulation: two conductors and siemens a metre."""
    beside: Beside = ALONE
    """The neighbours that are looked at in the same cable."""

    @property
    def names(self) -> tuple[str, ...]:
        """What the conductors are called, in order."""
        return (*CONDUCTORS, *self.beside.legs)

    def series(self) -> Iterator[tuple[float, float]]:
        """Resistance and inductance a metre of each conductor, in order [ohm/m, H/m]."""
        per = self.per_metre
        yield per.tip_ohm, per.leg_henry
        yield per.ring_ohm, per.leg_henry
        yield per.sheath_ohm, 0.0
        for each in self.beside.per_metre:
            yield each.tip_ohm, each.leg_henry
            yield each.ring_ohm, each.leg_henry

    @property
    def pairs(self) -> tuple[tuple[int, PerMetre], ...]:
        """Each pair by the number of its tip, its ring being the next, and its constants."""
        tips = (0, *range(len(CONDUCTORS), len(self.near), 2))
        return tuple(zip(tips, (self.per_metre, *self.beside.per_metre), strict=True))

    def shunts(self) -> Iterator[tuple[int, int, float, float]]:
        """Two conductors by number, and what is between them [F/m, S/m]."""
        coupled = self.beside.taken_farad
        for i, each in self.pairs:
            leg = each.leg_sheath_siemens
            yield i, SHEATH, each.tip_sheath_farad - coupled[i], leg
            yield i + 1, SHEATH, each.ring_sheath_farad - coupled[i + 1], leg
            yield i, i + 1, each.tip_ring_farad, 0.0
        for i, j, farad in self.beside.farad:
            yield i, j, farad, 0.0
        for a, b, siemens in self.leaks:
            yield self.names.index(a), self.names.index(b), 0.0, siemens

    def exact(self, hz: Real) -> Iterator[Block]:
        yield _solved(self, tuple(hz.tolist()))

    def drive(self) -> Iterator[Element]:
        return iter(())

    def lumped(self) -> Iterator[Element]:
        """Lumps that are this stretch at 0 Hz, so settled readings equal the exact DC."""
        posts = [self.near, *(self._post(i) for i in range(1, self.lumps)), self.far]
        dx = self.length_m / self.lumps
        lump = _two_port(self, np.zeros(1), dx)[0].real
        joins = [(i, j, float(lump[i, j])) for i, j in combinations(range(len(lump)), 2)]
        farads = [(i, j, farad * (dx / 2)) for i, j, farad, _ in self.shunts() if farad]
        yield from self._slow()
        for before, after in pairwise(posts):
            ends = (*before, *after)
            for i, j, siemens in joins:
                yield Element("siemens", ends[i], ends[j], siemens)
            for post in (before, after):
                for i, j, farad in farads:
                    yield Element("farad", post[i], post[j], farad)

    def _slow(self) -> Iterator[Element]:
        """What the insulation soaks up: half at each end, since a stretch settles at once by it."""
        legs = [(tip + leg, per.slow_farad) for tip, per in self.pairs for leg in (0, 1)]
        rows = (self.near, "near"), (self.far, "far")
        for (row, end), (i, per_m), seconds in product(rows, legs, SLOW_S):
            if farad := per_m * self.length_m / 2 / len(SLOW_S):
                middle = f"{self.far[i]}.{end}.{seconds:g}"
                yield Element("siemens", row[i], middle, farad / seconds)
                yield Element("farad", middle, row[SHEATH], farad)

    def _post(self, i: int) -> Nodes:
        return tuple(f"{node}.{i}" for node in self.far)


@lru_cache(maxsize=512)
def _solved(stretch: Conductors, hz: tuple[float, ...]) -> Block:
    """A stretch at some frequencies: the same in every state of whatever is joined to it."""
    port = _two_port(stretch, np.array(hz), stretch.length_m)
    return Block((*stretch.near, *stretch.far), port)


def _shunt(stretch: Conductors, omega: Real) -> Complex:
    """The shunt Laplacian a metre, shape (frequencies, conductors, conductors) [S/m]."""
    n = len(stretch.near)
    y = np.zeros((omega.size, n, n), dtype=complex)
    between = [(i, j, siemens + 1j * omega * farad) for i, j, farad, siemens in stretch.shunts()]
    soaked = [(tip, _soaked(per.slow_farad, omega)) for tip, per in stretch.pairs]
    slow = ((tip + leg, SHEATH, value) for tip, value in soaked for leg in (0, 1))
    for i, j, value in (*between, *slow):
        y[:, i, j] -= value
        y[:, j, i] -= value
        y[:, i, i] += value
        y[:, j, j] += value
    return y


def _soaked(farad: float, omega: Real) -> Complex:
    """Admittance of what insulation soaks up slowly."""
    each = 1j * omega[:, None] * farad / len(SLOW_S)
    total: Complex = (each / (1 + 1j * omega[:, None] * np.array(SLOW_S))).sum(axis=1)
    return total


def _two_port(stretch: Conductors, hz: Real, length_m: float) -> Complex:
    """Branches among near and then far ends, shape (frequencies, 2 n, 2 n) [S]."""
    omega = 2 * np.pi * hz
    z = np.stack([ohm + 1j * omega * henry for ohm, henry in stretch.series()], axis=1)
    root = np.sqrt(z)
    shunt = root[:, :, None] * _shunt(stretch, omega) * root[:, None, :]
    values, vectors = np.linalg.eig(shunt)
    left = vectors / root[:, :, None]
    right = np.linalg.inv(vectors) / root[:, None, :]
    square: Complex = (values * length_m**2).astype(np.complex128)
    across = _even((left * _sinh_rest(square)[:, None, :]) @ right / length_m)
    ends = -_even((left * _tanh_end(square)[:, None, :]) @ right / length_m) - across
    own = np.arange(n := z.shape[1])
    ends[:, own, own] = 0
    across[:, own, own] += 1 / (z * length_m)
    port = np.empty((hz.size, 2 * n, 2 * n), dtype=complex)
    port[:, :n, :n] = port[:, n:, n:] = ends
    port[:, :n, n:] = port[:, n:, :n] = across
    return port


def _even(matrix: Complex) -> Complex:
    """What rounding has made a little lopsided, made symmetric again."""
    return (matrix + matrix.transpose(0, 2, 1)) / 2
