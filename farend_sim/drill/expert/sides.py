"""What lies before and behind some places on a record, each side walked once.

Law: no suspect is known here. All suspects at the same places under the same nuisances share what
is on both sides of them, and all states of the unit share the way to it.
"""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from farend_sim.drill.expert.sight import Laid, Sight, front_at, nodes, way
from line_model.fan import EARTH, FRONT, Circuit, joined, seen_from
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
    hz: float
    """The frequency that is looked at."""
    _far: dict[tuple[str, ...], Circuit] = field(default_factory=dict)

    @cached_property
    def near(self) -> Circuit:
        """From the near end to the front at the first places."""
        there = way(self._laid, 0.0 * self.first_m, self.first_m, NEAR, FRONT)
        return joined(there, self.sight.near_end(self.nu).renamed(front_at(NEAR)))

    @cached_property
    def between(self) -> Circuit:
        """From the front at the first places to the last ones."""
        return way(self._laid, self.first_m, self.last_m, FRONT, LAST)

    def far(self, states: tuple[str, ...]) -> Circuit:
        """From the front at the last places to the far end with the unit there (states, ...)."""
        if (known := self._far.get(states)) is None:
            end = self.sight.far_end(self.nu, states, self.hz).renamed(front_at(_END))
            known = self._far[states] = seen_from(joined(self._to_end, end), (*FRONT, EARTH))
        return known

    @cached_property
    def _to_end(self) -> Circuit:
        end_m = np.full_like(self.last_m, self.sight.record.length_m)
        return way(self._laid, self.last_m, end_m, FRONT, _END)

    @cached_property
    def _laid(self) -> tuple[Laid, ...]:
        return self.sight.laid(self.nu, self.hz)
