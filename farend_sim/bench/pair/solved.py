"""What sound needs of a circuit, whoever solves it, and what sounds steadily on one.

Law: what is sent is stated as it is into the sender's own termination; how loud it is elsewhere is
the line's own.
"""

from collections.abc import Mapping
from math import pi
from typing import Protocol

from line_model import equipment as e
from line_model.sender import SENDER_HZ
from line_model.signal import dbm_to_volt
from line_model.standing import Steady
from line_model.terminals import Pair


class Solved(Protocol):
    """What sound needs of a circuit: a spell has it, and so has a pair at rest."""

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) when all has settled [V]; None between islands."""

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> dict[float, complex]:
        """Voltage across one pair of nodes for each ampere into another [V/A]."""

    def hum_volt(self, across: Pair) -> dict[float, complex]:
        """What alternates by itself puts across a pair of nodes [V rms], by frequency."""


def hums(solved: Solved, across: Pair) -> tuple[Steady, ...]:
    """What parts of the circuit put across a pair of nodes by themselves, by its right name."""
    volts = solved.hum_volt(across).items()
    return tuple(Steady(_CALLED.get(hz, "hum"), hz, volt) for hz, volt in volts)


_CALLED = {e.RING_HZ.value: "ringing", SENDER_HZ.value: "sender"}
"""What alternates at a frequency of its own is called by what sends it; all else is hum."""


def sent(
    what: str, dbm: Mapping[float, float], by: Pair, solved: Solved, across: Pair, start_us: int = 0
) -> tuple[Steady, ...]:
    """Tones that an office sends, as they stand across a pair of nodes.

    Args:
        what: they are.
        dbm: level of each into the office's own termination, by frequency [Hz].
        by: the office's two terminals.
        solved: the circuit.
        across: the pair of nodes.
        start_us: when they began.
    """
    out = []
    for hz, ohm in solved.transfer_ohm(by, across, tuple(dbm)).items():
        source_ohm = e.OFFICE_OHM.value + 1 / (2j * pi * hz * e.OFFICE_FARAD.value)
        out.append(Steady(what, hz, 2 * dbm_to_volt(dbm[hz]) / source_ohm * ohm, start_us))
    return tuple(out)
