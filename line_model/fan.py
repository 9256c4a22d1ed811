"""Many pairs at once: circuits of one shape and many sets of values, solved side by side.

The exact network of line_model/network.py with arrays in the place of numbers. Law: a circuit is
what is in it, no more: each branch and each current is an array over those axes alone on which it
depends, and all of a circuit broadcast together. Nodes are taken out by the same star-mesh step,
which subtracts nothing; those that depend on least go first, so that what is alike along an axis
is worked out once. A test holds it to the named network: what is fast here is what the bench reads.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations, product

import numpy as np

from line_model.network import Mesh
from line_model.two_port import Metre, Values, branches

FRONT = TIP, RING, SHEATH = "tip", "ring", "sheath"
"""A pair's conductors where it is looked at."""
EARTH = "earth"
_LEAST_M = 1e-6
"""A stretch of no length is this long: nothing here can tell."""
_NONE = np.array(0.0)


@dataclass(frozen=True, slots=True)
class Circuit:
    """Branches [S], each under its two nodes in their order; currents into nodes [A]."""

    siemens: Mapping[tuple[str, str], Values]
    amp: Mapping[str, Values]

    def between(self, a: str, b: str) -> Values:
        """The branch between two nodes [S]."""
        return self.siemens.get(_key(a, b), _NONE)

    def into(self, node: str) -> Values:
        """The current into a node [A]."""
        return self.amp.get(node, _NONE)

    def each(self, of: Callable[[Values], Values]) -> "Circuit":
        """The same circuit with something done to each of its arrays."""
        siemens = {key: of(value) for key, value in self.siemens.items()}
        return Circuit(siemens, {node: of(value) for node, value in self.amp.items()})

    def times(self, factor: Values) -> "Circuit":
        """So many times the same circuit."""
        return self.each(lambda value: value * factor)

    def renamed(self, names: Mapping[str, str]) -> "Circuit":
        """The same circuit between other nodes."""
        siemens = {
            _key(names.get(a, a), names.get(b, b)): value for (a, b), value in self.siemens.items()
        }
        return Circuit(siemens, {names.get(node, node): value for node, value in self.amp.items()})


def _key(a: str, b: str) -> tuple[str, str]:
    return (a, b) if a < b else (b, a)


def branch(a: str, b: str, siemens: Values, volt: Values | None = None) -> Circuit:
    """One branch, with the voltage in it that drives `a` up."""
    amp = {} if volt is None else {a: siemens * volt, b: -siemens * volt}
    return Circuit({_key(a, b): siemens}, amp)


def meshed(mesh: Mesh) -> Circuit:
    """A named circuit at the first frequency it is solved at."""
    siemens = mesh.siemens[0] if mesh.hz[0] else mesh.siemens[0].real
    pairs = ((i, j) for i in range(len(mesh.nodes)) for j in range(i) if siemens[i, j])
    found = {_key(mesh.nodes[i], mesh.nodes[j]): siemens[i, j] for i, j in pairs}
    amp = zip(mesh.nodes, mesh.dc_amp[0].real, strict=True)
    return Circuit(found, {node: value for node, value in amp if value})


def stacked(circuits: Sequence[Circuit], axes: int) -> Circuit:
    """Circuits of numbers as one, along the first of so many axes."""
    shape = (len(circuits), *[1] * (axes - 1))
    branches = {key: None for one in circuits for key in one.siemens}
    nodes = {node: None for one in circuits for node in one.amp}
    return Circuit(
        {key: np.reshape([one.between(*key) for one in circuits], shape) for key in branches},
        {node: np.reshape([one.into(node) for one in circuits], shape) for node in nodes},
    )


def stretch(of: Metre, length_m: Values, near: Sequence[str], far: Sequence[str]) -> Circuit:
    """A uniform stretch from near to far nodes, as in line_model/two_port.py."""
    across, ends = branches(of, np.maximum(length_m, _LEAST_M))
    found = {}
    for (i, a), (j, b) in product(enumerate(near), enumerate(far)):
        found[_key(a, b)] = np.ascontiguousarray(across[..., i, j])
    for i, j in combinations(range(len(near)), 2):
        found[_key(near[i], near[j])] = found[_key(far[i], far[j])] = ends[..., i, j].copy()
    return Circuit(found, {})


def joined(*circuits: Circuit) -> Circuit:
    """Circuits side by side on the nodes that they share."""
    siemens, amp = dict(circuits[0].siemens), dict(circuits[0].amp)
    for more in circuits[1:]:
        for key, value in more.siemens.items():
            siemens[key] = siemens[key] + value if key in siemens else value
        for node, value in more.amp.items():
            amp[node] = amp[node] + value if node in amp else value
    return Circuit(siemens, amp)


def spread(circuit: Circuit, nodes: Sequence[str], shape: tuple[int, ...]) -> Circuit:
    """Nodes with a branch between each two of them, all of one shape."""
    pairs = (_key(a, b) for a, b in combinations(nodes, 2))
    whole = Circuit({(a, b): circuit.between(a, b) for a, b in pairs}, circuit.amp)
    return whole.each(lambda value: np.broadcast_to(value, shape))


def seen_from(circuit: Circuit, keep: Iterable[str]) -> Circuit:
    """The same as seen from some of its nodes: all others taken out."""
    arms: dict[str, dict[str, Values]] = {}
    for (a, b), value in circuit.siemens.items():
        arms.setdefault(a, {})[b] = arms.setdefault(b, {})[a] = value
    amp = dict(circuit.amp)
    kept = set(keep)
    out = [node for node in arms if node not in kept]
    for node in sorted(out, key=lambda node: sum(arm.size for arm in arms[node].values())):
        _take_out(node, arms, amp)
    siemens = {(a, b): value for a, to in arms.items() for b, value in to.items() if a < b}
    return Circuit(siemens, {node: value for node, value in amp.items() if node in kept})


def _take_out(node: str, arms: dict[str, dict[str, Values]], amp: dict[str, Values]) -> None:
    """One star-mesh step: each two neighbours get y y' / sum(y), each its share of the current."""
    own = sorted(arms.pop(node).items(), key=lambda arm: arm[1].size)
    total = reduce(np.add, (value for _, value in own), _NONE)
    part = 1 / np.where(total == 0, 1, total)
    driven = amp.pop(node, None)
    for done, (a, value) in enumerate(own, start=1):
        del arms[a][node]
        share = value * part
        if driven is not None:
            amp[a] = share * driven + amp.get(a, 0.0)
        for b, other in own[done:]:
            arms[a][b] = arms[b][a] = share * other + arms[a].get(b, 0.0)


def volt_across(circuit: Circuit, a: str, b: str) -> Values:
    """V(a) - V(b) of a circuit of two nodes [V]; not a number between islands."""
    y = circuit.between(a, b)
    half = (circuit.into(a) - circuit.into(b)) / 2
    return np.where(y != 0, half / np.where(y != 0, y, 1), np.nan)
