"""A uniform stretch of a pair, its sheath and neighbours: exact at a frequency, lumps in time.

Both come from one pi-shaped two-port, line_model/two_port.py. A neighbour in the same cable is two
conductors more, and nothing else.
"""

from collections import OrderedDict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product
from math import ceil, sqrt

import numpy as np

from line_model.beside import ALONE, Beside
from line_model.cable import PerMetre
from line_model.parts import Block, Complex, Element, Part, Real
from line_model.terminals import CONDUCTORS
from line_model.two_port import two_port

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
        solve((self,), tuple(hz.tolist()))
        yield _KNOWN[self, tuple(hz.tolist())]

    def drive(self) -> Iterator[Element]:
        return iter(())

    def lumped(self) -> Iterator[Element]:
        """Lumps that are this stretch at 0 Hz, so settled readings equal the exact DC."""
        posts = [self.near, *(self._post(i) for i in range(1, self.lumps)), self.far]
        dx = self.length_m / self.lumps
        lump = _lump(self, dx)
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


_KNOWN: OrderedDict[tuple[Conductors, tuple[float, ...]], Block] = OrderedDict()
"""The latest stretches at some frequencies: the same in every state of whatever is joined."""
_KEEP = 512


def solve(parts: Iterable[Part], hz: tuple[float, ...]) -> None:
    """Solve all stretches among some parts that are not known at these frequencies, in one go."""
    by_size: dict[int, dict[Conductors, None]] = {}
    for part in parts:
        if isinstance(part, Conductors):
            if (part, hz) in _KNOWN:
                _KNOWN.move_to_end((part, hz))
            else:
                by_size.setdefault(len(part.near), {})[part] = None
    for new in by_size.values():
        for stretch, port in zip(new, _ports(list(new), 2 * np.pi * np.array(hz)), strict=True):
            _KNOWN[stretch, hz] = Block((*stretch.near, *stretch.far), port)
    while len(_KNOWN) > _KEEP:
        _KNOWN.popitem(last=False)


def forget() -> None:
    """Know no stretch any more, for whoever times how they are solved."""
    _KNOWN.clear()


def _ports(stretches: Sequence[Conductors], omega: Real) -> Complex:
    """Stretches of one size, shape (stretches, frequencies, 2 n, 2 n) [S]."""
    ohm, henry = np.array([list(zip(*each.series(), strict=True)) for each in stretches]).swapaxes(
        0, 1
    )
    series = ohm[:, None, :] + 1j * omega[:, None] * henry[:, None, :]
    shunt = np.stack([_shunt(each, omega) for each in stretches])
    length_m = np.array([each.length_m for each in stretches])
    ports: Complex = two_port(series, shunt, length_m[:, None])
    return ports


def _lump(stretch: Conductors, length_m: float) -> Real:
    """A lump of a stretch: its branches at 0 Hz (2 n, 2 n) [S]."""
    ohm = np.array([ohm for ohm, _ in stretch.series()])
    lump: Real = two_port(ohm, _shunt(stretch, np.zeros(1))[0].real, length_m)
    return lump


def _shunt(stretch: Conductors, omega: Real) -> Complex:
    """What is between conductors a metre, shape (frequencies, conductors, conductors) [S/m]."""
    n = len(stretch.near)
    farad, siemens = np.zeros((2, n, n))
    for i, j, between_farad, between_siemens in stretch.shunts():
        farad[i, j] += between_farad
        siemens[i, j] += between_siemens
    y = siemens + 1j * omega[:, None, None] * farad
    for tip, per in stretch.pairs:
        if per.slow_farad:
            y[:, tip : tip + 2, SHEATH] += soaked(per.slow_farad, omega)[:, None]
    both: Complex = y + y.swapaxes(1, 2)
    return both


def soaked(farad: float, omega: Real) -> Complex:
    """Admittance of what insulation soaks up slowly."""
    each = 1j * omega[:, None] * farad / len(SLOW_S)
    total: Complex = (each / (1 + 1j * omega[:, None] * np.array(SLOW_S))).sum(axis=1)
    return total


def lumps(per: PerMetre, length_m: float) -> int:
    """How many lumps a stretch needs in time.

    Diffusion over a lump of length h is wrong by about r c h^2 / (12 t) at a time t after a
    switch; h is chosen so that this is LUMP_ERROR at SHORTEST_US. No search at run time.
    """
    farad = per.tip_ring_farad + max(per.tip_sheath_farad, per.ring_sheath_farad)
    worst = (per.tip_ohm + per.ring_ohm) * farad
    return max(1, ceil(length_m * sqrt(worst / (12 * LUMP_ERROR * SHORTEST_US * 1e-6))))
