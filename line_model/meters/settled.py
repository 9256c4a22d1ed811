"""A circuit at rest with a meter joined to it, for `came_at_rest`: no time, hence no lumps.

Law: the plant is solved once, as its terminals see it; each setting of the meter is joined to that.
"""

from collections.abc import Sequence

import numpy as np

from line_model.knees import at_rest
from line_model.meters.standing import Steady
from line_model.network import Mesh
from line_model.parts import Knee, Part, nodes_of


class Settled:
    """What stands between two nodes of a circuit at rest."""

    def __init__(self, direct: Mesh, parts: tuple[Part, ...]) -> None:
        self._direct, self._parts = direct, parts

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        """At rest, every mean is the settled voltage [V]."""
        return self._direct.volt(a, b)

    def settled(self, a: str, b: str) -> float | None:
        return self._direct.volt(a, b)

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        """What the parts drive by themselves; senders that come and go are the bench's."""
        driven: dict[float, list[tuple[str, str, complex]]] = {}
        for part in self._parts:
            for one in part.alternating():
                driven.setdefault(one.hz, []).append((one.a, one.b, one.amp))
        return tuple(Steady("hum", hz, self._driven(hz, by, (a, b))) for hz, by in driven.items())

    def _driven(
        self, hz: float, by: Sequence[tuple[str, str, complex]], across: tuple[str, str]
    ) -> complex:
        mesh = Mesh((hz,), self._parts)
        currents = [(a, b, np.array([amp], dtype=np.complex128)) for a, b, amp in by]
        return mesh.driven(currents, across)[0] or 0j

    def noise_volt(self, a: str, b: str) -> float:
        """Noise is the bench's [V]."""
        return 0.0

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        return Mesh((hz,), self._parts).ohm(a, b)[0]


class Joins:
    """Joins a meter to one circuit: the `join` of `came_at_rest`."""

    def __init__(self, parts: tuple[Part, ...]) -> None:
        self._parts = parts
        self._bent = any(isinstance(part, Knee) for part in parts)
        self._plant = None if self._bent else Mesh((0.0,), parts)
        self._seen: dict[frozenset[str], Mesh] = {}

    def __call__(self, meter: tuple[Part, ...]) -> Settled:
        """What stands on the circuit with a meter's parts joined to it."""
        whole = (*self._parts, *meter)
        if self._plant is None:
            whole = at_rest(whole)
            return Settled(Mesh((0.0,), whole), whole)
        return Settled(self._from(self._plant, nodes_of(meter)).joined(meter), whole)

    def _from(self, plant: Mesh, nodes: set[str]) -> Mesh:
        """The plant as the nodes that a meter touches see it; solved once for each set of them."""
        touched = frozenset(nodes & set(plant.nodes))
        if touched not in self._seen:
            self._seen[touched] = plant.seen_from(sorted(touched))
        return self._seen[touched]
