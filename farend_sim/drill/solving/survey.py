"""What is read of every pair before anything is thought of it: volts, then ohms, alone and told.

Common practice, no source.
"""

from collections.abc import Iterator

from farend_sim.drill.expert.looks import TWO_ENDS, Setting
from farend_sim.unit.table import PairState

FOREIGN_VOLT = 3.0
"""More than this on a lifted pair is foreign; less may be what a leak makes by itself. Common
practice, no source."""
_OHMS: tuple[tuple[PairState | None, str, str], ...] = (
    (None, "tip-ring", "the pair as it stands: ohms across tip-ring"),
    (None, "tip-sheath", "each leg to the sheath: ohms across tip-sheath"),
    (None, "ring-sheath", "each leg to the sheath: ohms across ring-sheath"),
    ("strap", "tip-ring", "have the unit strap the pair, and read the loop"),
    ("tip-ground", "tip-sheath", "have the tip put to ground, and read it to the sheath"),
    ("ring-ground", "ring-sheath", "have the ring put to ground, and read it to the sheath"),
)
"""The state, None for the pair by itself; the terminals; the words for a person."""


def of_volts(meter: str, idle: PairState = "idle") -> Iterator[Setting]:
    """Foreign voltage, in the state in which the pair is by itself."""
    for across in TWO_ENDS:
        yield Setting(meter=meter, across=across, state=idle)


def of_ohms(meter: str, idle: PairState = "idle") -> Iterator[tuple[Setting, str]]:
    """Ohms, and how a person is told to read them."""
    for state, across, words in _OHMS:
        yield Setting(meter=meter, across=across, state=state or idle), words
