"""The exact network: branch admittances between named nodes, solved by star-mesh steps.

A circuit is kept as the admittances *between* its nodes; nothing is referred to a ground and no
diagonal exists. To take a node out, every pair of its neighbours gets y_i y_j / sum(y): there is
no subtraction, so a gigohm stands beside a milliohm without loss. What a pair of terminals sees is
what is left when all other nodes are out. Conductors with no path between them are islands: what
is left between them is exactly zero, and they read `None`, never a number made by a fudge.
"""

from collections.abc import Iterable, Sequence

import numpy as np

from line_model.parts import Block, Branch, Complex, Part, Real
from line_model.section import solve

_ALL = slice(None)


class Mesh:
    """A circuit at some frequencies: branches (F, N, N) [S] and DC node currents (N) [A]."""

    def __init__(self, hz: Sequence[float], parts: Iterable[Part]) -> None:
        self.hz: Real = np.asarray(hz, dtype=float)
        self.nodes: list[str] = []
        self._at: dict[str, int] = {}
        self.siemens: Complex = np.zeros((self.hz.size, 0, 0), dtype=complex)
        self.dc_amp: Complex = np.zeros((self.hz.size, 0), dtype=complex)
        self._take(parts)

    def each(self, cases: Sequence[Iterable[Part]]) -> "Mesh":
        """The circuit with each of several things joined to it, one after another along `hz`."""
        n, cases = len(cases), [tuple(parts) for parts in cases]
        siemens, amp = np.tile(self.siemens, (n, 1, 1)), np.tile(self.dc_amp, (n, 1))
        fan = Mesh._of(np.tile(self.hz, n), self.nodes, siemens, amp)
        solve((part for parts in cases for part in parts), tuple(self.hz.tolist()))
        for i, parts in enumerate(cases):
            fan._take(parts, slice(i * self.hz.size, (i + 1) * self.hz.size))
        return fan

    def seen_from(self, nodes: Sequence[str]) -> "Mesh":
        """The circuit as these nodes see it, all others out: to join many things to one plant."""
        there = [name for name in nodes if name in self._at]
        return Mesh._of(self.hz, there, *self._kept(there, self.dc_amp))

    @classmethod
    def _of(cls, hz: Real, nodes: Sequence[str], siemens: Complex, dc_amp: Complex) -> "Mesh":
        """A circuit whose branches and currents are known."""
        mesh = cls(hz.tolist(), ())
        mesh.nodes, mesh._at = list(nodes), {name: i for i, name in enumerate(nodes)}
        mesh.siemens, mesh.dc_amp = siemens, dc_amp
        return mesh

    def _take(self, parts: Iterable[Part], rows: slice = _ALL) -> None:
        """Join parts, in some rows of `hz`."""
        parts = tuple(parts)
        solve(parts, tuple(self.hz[rows].tolist()))
        joined = [each for part in parts for each in part.exact(self.hz[rows])]
        for each in joined:
            for name in each.nodes if isinstance(each, Block) else each[:2]:
                self._node(name)
        self._grow()
        for each in joined:
            if isinstance(each, Block):
                at = np.array([self._at[name] for name in each.nodes])
                self.siemens[rows, at[:, None], at] += each.siemens
            else:
                self._join(each, rows)
        self._drive(parts, rows)

    def _grow(self) -> None:
        """Make room for new nodes."""
        old, n = self.dc_amp.shape[1], len(self.nodes)
        if n == old:
            return
        siemens, amp = self.siemens, self.dc_amp
        self.siemens = np.zeros((self.hz.size, n, n), dtype=complex)
        self.dc_amp = np.zeros((self.hz.size, n), dtype=complex)
        self.siemens[:, :old, :old], self.dc_amp[:, :old] = siemens, amp

    def _node(self, name: str) -> int:
        if name not in self._at:
            self._at[name] = len(self.nodes)
            self.nodes.append(name)
        return self._at[name]

    def _join(self, branch: Branch, rows: slice) -> None:
        i, j = self._at[branch.a], self._at[branch.b]
        if i != j:
            self.siemens[rows, i, j] += branch.siemens
            self.siemens[rows, j, i] += branch.siemens

    def _drive(self, parts: Iterable[Part], rows: slice) -> None:
        direct = self.hz[rows] == 0
        for part in parts if direct.any() else ():
            for _, a, b, value in part.drive():
                self.dc_amp[rows, self._at[a]] -= np.where(direct, value, 0.0)
                self.dc_amp[rows, self._at[b]] += np.where(direct, value, 0.0)

    def _kept(self, keep: Sequence[str], amp: Complex) -> tuple[Complex, Complex]:
        """Take out all nodes but some: their branches and currents, in the order asked."""
        y, amp = self.siemens.copy(), amp.copy()
        kept = np.array([self._at[name] for name in keep], dtype=int)
        for k in set(range(len(self.nodes))).difference(kept.tolist()):
            near = np.flatnonzero(np.any(y[:, k] != 0, axis=0))
            arms = y[:, k, near]
            total = arms.sum(axis=1)[:, None]
            share = np.divide(arms, total, out=np.zeros_like(arms), where=total != 0)
            block = y[:, near[:, None], near] + share[:, :, None] * arms[:, None, :]
            block[:, range(near.size), range(near.size)] = 0
            y[:, near[:, None], near] = block
            amp[:, near] += share * amp[:, k, None]
            y[:, k] = y[:, :, k] = 0
        return y[:, kept[:, None], kept], amp[:, kept]

    def ohm(self, a: str, b: str) -> list[complex | None]:
        """Driving-point impedance at each frequency [ohm], sources at rest; None if infinite."""
        if a not in self._at or b not in self._at:
            return [None] * self.hz.size
        y, _ = self._kept((a, b), np.zeros_like(self.dc_amp))
        return [None if value == 0 else complex(1 / value) for value in y[:, 0, 1]]

    def volt(self, a: str, b: str) -> float | None:
        """Open-circuit DC voltage V(a) - V(b) [V]; None between islands. Needs 0 Hz first."""
        if a not in self._at or b not in self._at:
            return None
        y, amp = self._kept((a, b), self.dc_amp)
        if y[0, 0, 1] == 0:
            return None
        return float(((amp[0, 0] - amp[0, 1]) / 2 / y[0, 0, 1]).real)

    def transfer_ohm(self, into: tuple[str, str], across: tuple[str, str]) -> list[complex | None]:
        """Voltage across one pair of nodes for each ampere driven into another [V/A]."""
        return self.driven([(*into, np.ones(self.hz.size, dtype=complex))], across)

    def driven(
        self, currents: Sequence[tuple[str, str, Complex]], across: tuple[str, str]
    ) -> list[complex | None]:
        """Voltage across a pair of nodes with currents driven out of b into a [V].

        Args:
            currents: for each: node a, node b, amperes at each frequency.
            across: the pair that is looked at.
        """
        named = {*across, *(node for a, b, _ in currents for node in (a, b))}
        if not named <= self._at.keys():
            return [None] * self.hz.size
        amp = np.zeros_like(self.dc_amp)
        for a, b, value in currents:
            amp[:, self._at[a]] += value
            amp[:, self._at[b]] -= value
        y, left = self._kept(across, amp)
        return [
            None if branch == 0 else complex((ends[0] - ends[1]) / 2 / branch)
            for branch, ends in zip(y[:, 0, 1], left, strict=True)
        ]
