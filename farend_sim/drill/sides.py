"""What lies before and behind some places on a record, each side walked once.

Law: no suspect is known here. All suspects at the same places under the same nuisances share what
is on both sides of them, and all states of the unit share the way to it.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from farend_sim.drill.sight import Sight, front_at, nodes
from line_model.fan import EARTH, FRONT, SHEATH, Circuit, joined, seen_from
from line_model.parts import Real

NEAR, LAST, _END = nodes("near"), nodes("last"), nodes("end")
"""The conductors' nodes at the near end, at the second of two places, and at the far end."""


@dataclass(frozen=True)
class Sides:
    """Places on a record under some nuisances, and what is on both sides of them."""

    sight: Sight
    first_m: Real
    """The places (...)."""
    last_m: Real
    """The second ones where a suspect has two, behind the first; else the same."""
    nu: Real
    """Nuisances (..., K)."""
    _walked: dict[tuple[object, ...], Circuit] = field(default_factory=dict)

    def near(self, hz: float) -> Circuit:
        """From the near end to the front at the first places."""

        def walk() -> Circuit:
            way = self.sight.way(0.0 * self.first_m, self.first_m, self.nu, hz, (NEAR, FRONT))
            return joined(way, self.sight.near_end(self.nu).renamed({SHEATH: NEAR[-1]}))

        return self._once(walk, "near", hz)

    def between(self, hz: float) -> Circuit:
        """From the front at the first places to the last ones."""
        ends = FRONT, LAST
        return self._once(
            lambda: self.sight.way(self.first_m, self.last_m, self.nu, hz, ends), "between", hz
        )

    def far(self, states: tuple[str, ...], hz: float) -> Circuit:
        """From the front at the last places to the far end with the unit there (states, ...)."""

        def walk() -> Circuit:
            end = self.sight.far_end(self.nu, states, hz).renamed(front_at(_END))
            return seen_from(joined(self._to_end(hz), end), (*FRONT, EARTH))

        return self._once(walk, "far", hz, *states)

    def _to_end(self, hz: float) -> Circuit:
        end_m = np.full_like(self.last_m, self.sight.record.length_m)
        ends = FRONT, _END
        return self._once(
            lambda: self.sight.way(self.last_m, end_m, self.nu, hz, ends), "to end", hz
        )

    def _once(self, walk: Callable[[], Circuit], *key: object) -> Circuit:
        if (known := self._walked.get(key)) is None:
            known = self._walked[key] = walk()
        return known
