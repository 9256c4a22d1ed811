"""The circuit in time: lumped RC, closed-form modes, no time step.

A topology is (G, C, I); its state is the voltages of its capacitors. With A = G + C / T the pencil
(G, A) has eigenvalues m from 0 (an island that keeps its charge for ever) to 1 (a node without
capacitance, a mode of no duration): every mode decays at m / (1 - m) / T, and nothing is special.
Charge carries over any change of topology, because it is the capacitors that carry it.
"""

from collections.abc import Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from line_model.parts import Element, Part, Real

Capacitors = Mapping[tuple[str, str], float]
"""Voltage of each capacitor [V], first node against second: the state of a circuit in time."""

_T_S = 1e-3
"""Shift of the pencil [s]: between the slowest modes (minutes) and the fastest (nanoseconds)."""
_INSTANT_S = 1e-9
"""Modes shorter than this have no duration."""
_NEVER = 1e-15
"""Shares below this are rounding: an island that nothing drives keeps what it has."""


class Modes:
    """One topology's modes. Made once, then started from any state of its capacitors."""

    def __init__(self, parts: Iterable[Part], reference: str) -> None:
        elements = [element for part in parts for element in part.lumped()]
        names = dict.fromkeys(node for e in elements for node in (e.a, e.b))
        self.nodes: dict[str, int] = {name: i for i, name in enumerate(names)}
        n = len(names)
        conductance, capacitance, current = np.zeros((n, n)), np.zeros((n, n)), np.zeros(n)
        self._farad: dict[tuple[str, str], float] = {}
        for e in elements:
            self._stamp(e, conductance, capacitance, current)
        island = _islands(n, elements, self.nodes)
        self._island = island
        pinned = self._pinned(island, reference)
        self._free = np.array([i for i in range(n) if i not in pinned], dtype=int)
        self._solve(conductance, capacitance, current)
        self._pairs = np.array(
            [(self.nodes[a], self.nodes[b]) for a, b in self._farad], dtype=int
        ).reshape(-1, 2)

    def _stamp(self, e: Element, g: Real, c: Real, amp: Real) -> None:
        i, j = self.nodes[e.a], self.nodes[e.b]
        if e.what == "amp":
            amp[i] -= e.value
            amp[j] += e.value
            return
        if i == j:
            return
        into = g if e.what == "siemens" else c
        into[i, i] += e.value
        into[j, j] += e.value
        into[i, j] -= e.value
        into[j, i] -= e.value
        if e.what == "farad":
            self._farad[e.a, e.b] = self._farad.get((e.a, e.b), 0.0) + e.value

    def _pinned(self, island: list[int], reference: str) -> set[int]:
        """One node of each island is its reference, at 0 V."""
        first: dict[int, int] = {}
        for i, name in enumerate(self.nodes):
            if name == reference:
                first[island[i]] = i
            first.setdefault(island[i], i)
        return set(first.values())

    def _solve(self, g: Real, c: Real, amp: Real) -> None:
        keep = np.ix_(self._free, self._free)
        shifted = g[keep] + c[keep] / _T_S
        # unit diagonal first: milliohms and gigohms then lose nothing to each other
        scale = 1 / np.sqrt(np.diag(shifted))
        lower = np.linalg.cholesky(scale[:, None] * shifted * scale)
        inverse = np.linalg.inv(lower) * scale
        middle = inverse @ g[keep] @ inverse.T
        share, turn = np.linalg.eigh((middle + middle.T) / 2)
        self._share = np.clip(share, 0.0, 1.0)
        self._to_volt = inverse.T @ turn  # node voltages of each mode
        self._settled = self._rest_of(g, c, amp)
        with np.errstate(divide="ignore"):
            self._rate: Real = self._share / ((1 - self._share) * _T_S)
        instant = (1 - self._share) * _T_S < _INSTANT_S
        self._rate[instant] = np.inf
        self._lasting = ~instant

    def _rest_of(self, g: Real, c: Real, amp: Real) -> Real:
        """Each mode's amplitude when all has settled; a mode that never moves is left out.

        With A = G + C / T and G v = I, amplitudes are V' (I + C v / T): what insulation settles at
        is not taken from conductances that its own copper drowns.
        """
        volt = _settled_volt(g, amp)
        settled: Real = self._to_volt.T @ (amp + c @ volt / _T_S)[self._free]
        settled[self._share <= _NEVER] = 0.0
        return settled

    def start(self, capacitors: Capacitors) -> NDArray[np.float64]:
        """Each mode's amplitude just after these voltages stood on the capacitors."""
        volt = np.array([capacitors.get(pair, 0.0) for pair in self._farad])
        charge = np.zeros(len(self.nodes))
        stored = volt * np.array(list(self._farad.values()))
        np.add.at(charge, self._pairs[:, 0], stored)
        np.add.at(charge, self._pairs[:, 1], -stored)
        amplitude = self._to_volt.T @ charge[self._free] / _T_S
        held: Real = np.zeros_like(amplitude)
        np.divide(amplitude, 1 - self._share, out=held, where=self._lasting)
        return held

    def row(self, a: str, b: str) -> Real | None:
        """What each mode gives of V(a) - V(b); None between islands."""
        i, j = self.nodes.get(a), self.nodes.get(b)
        if i is None or j is None or self._island[i] != self._island[j]:
            return None
        full = np.zeros((2, self._to_volt.shape[1]))
        for k, node in enumerate((i, j)):
            at = np.flatnonzero(self._free == node)
            if at.size:
                full[k] = self._to_volt[at[0]]
        row: Real = full[0] - full[1]
        return row

    def after(self, start: Real, seconds: float) -> Real:
        """The amplitudes some time later."""
        decay = np.exp(-self._rate * seconds) if seconds > 0 else (self._lasting * 1.0)
        later: Real = start * decay + self.settled() * (1 - decay)
        return later

    def at_all(self, start: Real, seconds: Real) -> Real:
        """The amplitudes at many times, each more than 0: a column a time."""
        decay = np.exp(-np.multiply.outer(self._rate, seconds))
        settled = self.settled()[:, None]
        later: Real = (start[:, None] - settled) * decay + settled
        return later

    def mean(self, start: Real, from_s: float, to_s: float) -> Real:
        """The amplitudes' mean over a time, in closed form."""
        first, settled = self.after(start, from_s), self.settled()
        x = self._rate * (to_s - from_s)
        with np.errstate(invalid="ignore"):
            left = np.where(x > 1e-6, -np.expm1(-x) / np.where(x > 0, x, 1), 1 - x / 2)
        left[~self._lasting] = 0.0
        mean: Real = settled + (first - settled) * left
        return mean

    def settled(self) -> Real:
        """The amplitudes when all has settled; a mode that never moves is left out."""
        return self._settled

    def rest(self) -> dict[tuple[str, str], float]:
        """The voltages on the capacitors when all has settled."""
        return self.capacitors(self.settled())

    def capacitors(self, amplitude: Real) -> dict[tuple[str, str], float]:
        """The voltages that stand on the capacitors."""
        volt = np.zeros(len(self.nodes))
        volt[self._free] = self._to_volt @ amplitude
        across = volt[self._pairs[:, 0]] - volt[self._pairs[:, 1]]
        return dict(zip(self._farad, across.tolist(), strict=True))


def _settled_volt(g: Real, amp: Real) -> Real:
    """Node voltages at rest, one node of each island without a path at 0 V.

    Nodes are taken out one by one, each pair of neighbours getting y_i y_j / sum(y), as in
    line_model/network.py: nothing is subtracted, so a gigohm keeps its digits beside a milliohm.
    """
    y, amp = -np.tril(g, -1), amp.copy()
    taken = []
    for k in range(len(amp) - 1, -1, -1):
        near = np.flatnonzero(y[k, :k])
        arms = y[k, near]
        total = arms.sum()
        share = arms / total if near.size else arms
        taken.append((k, near, share, amp[k] / total if near.size else 0.0))
        y[near[:, None], near] += share[:, None] * arms
        amp[near] += share * amp[k]
    volt: Real = np.zeros_like(amp)
    for k, near, share, own in reversed(taken):
        volt[k] = own + share @ volt[near]
    return volt


def _islands(n: int, elements: Iterable[Element], nodes: Mapping[str, int]) -> list[int]:
    """Which nodes are joined by anything: each node's island, by union and find."""
    parent = list(range(n))

    def root(i: int) -> int:
        while parent[i] != i:
            parent[i] = parent[parent[i]]
            i = parent[i]
        return i

    for e in elements:
        if e.what != "amp" and e.value:
            parent[root(nodes[e.a])] = root(nodes[e.b])
    return [root(i) for i in range(n)]
