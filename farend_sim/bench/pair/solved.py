"""What sound needs of a circuit, whoever solves it."""

from typing import Protocol

from line_model.terminals import Pair


class Solved(Protocol):
    """What sound needs of a circuit: a spell has it, and so has a pair at rest."""

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) when all has settled [V]; None between islands."""

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> dict[float, complex]:
        """Voltage across one pair of nodes for each ampere into another [V/A]."""

    def hum_volt(self, across: Pair) -> dict[float, complex]:
        """What induction puts across a pair of nodes [V rms], by frequency."""
