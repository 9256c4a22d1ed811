"""Many pairs at once: circuits of one shape and many sets of values, solved side by side.

The exact network of line_model/network.py, with any number of leading axes in place of names: a
circuit is its branches (..., N, N) [S] and its DC node currents (..., N) [A], and nodes are taken
out by the same star-mesh step, which subtracts nothing. `stretch` is the two-port of
line_model/section.py with the length and the constants as arrays. A test holds both to the named
network, so what is fast here is what the bench reads.
"""

from typing import Any, NamedTuple

import numpy as np

from line_model.two_port import Values, two_port

TIP, RING, SHEATH, EARTH = range(4)
"""The nodes of a front, in this order."""
_LEAST_M = 1e-6
"""A stretch of no length is this long: nothing here can tell."""


class Circuit(NamedTuple):
    """Branches (..., N, N) [S], no diagonal; currents into the nodes (..., N) [A]."""

    siemens: Values
    amp: Values

    @property
    def size(self) -> int:
        return int(self.siemens.shape[-1])


def empty(shape: tuple[int, ...], nodes: int, dtype: Any = float) -> Circuit:
    """Nodes with nothing between them."""
    return Circuit(np.zeros((*shape, nodes, nodes), dtype), np.zeros((*shape, nodes), dtype))


def placed(circuit: Circuit, at: tuple[int, ...], nodes: int) -> Circuit:
    """A circuit among more nodes: its own nodes become those at these numbers."""
    wide = empty(circuit.siemens.shape[:-2], nodes, circuit.siemens.dtype)
    where = np.array(at, dtype=int)
    wide.siemens[..., where[:, None], where] = circuit.siemens
    wide.amp[..., where] = circuit.amp
    return wide


def joined(*circuits: Circuit) -> Circuit:
    """Circuits on the same nodes, side by side; leading axes broadcast."""
    siemens, amp = circuits[0]
    for more in circuits[1:]:
        siemens, amp = siemens + more.siemens, amp + more.amp
    return Circuit(siemens, amp)


def without_last(circuit: Circuit, count: int) -> Circuit:
    """Take the last nodes out, one star-mesh step each."""
    siemens, amp = circuit
    for last in range(circuit.size - 1, circuit.size - 1 - count, -1):
        arms = siemens[..., last, :last]
        total = arms.sum(axis=-1, keepdims=True)
        share = np.divide(arms, total, out=np.zeros_like(arms), where=total != 0)
        siemens = siemens[..., :last, :last] + share[..., :, None] * arms[..., None, :]
        amp = amp[..., :last] + share * amp[..., last:]
        siemens[..., range(last), range(last)] = 0
    return Circuit(siemens, amp)


def branch(shape: tuple[int, ...], nodes: int, a: int, b: int, siemens: Values | float) -> Circuit:
    """One branch between two of so many nodes."""
    circuit = empty(shape, nodes, np.result_type(siemens, float))
    circuit.siemens[..., a, b] = circuit.siemens[..., b, a] = siemens
    return circuit


def volt_across_first_two(circuit: Circuit) -> Values:
    """V(first) - V(second) of a circuit of two nodes [V]; not a number between islands."""
    y = circuit.siemens[..., 0, 1]
    half = (circuit.amp[..., 0] - circuit.amp[..., 1]) / 2
    return np.divide(half, y, out=np.full(y.shape, np.nan, y.dtype), where=y != 0)


def stretch(series: Values, shunt: Values, length_m: Values) -> Circuit:
    """A uniform stretch between near and far ends, as in line_model/two_port.py."""
    port = two_port(series, shunt, np.maximum(length_m, _LEAST_M))
    return Circuit(port, np.zeros(port.shape[:-1], port.dtype))
