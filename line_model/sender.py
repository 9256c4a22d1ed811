"""A test sender: a milliwatt at 1004 Hz, by which the loss of a pair is measured."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from line_model.parts import Alternating, Part, Resistor
from line_model.sourced import Sourced

SENDER_HZ = Sourced(1004.0, "Hz", "test tone: 83 Ill. Adm. Code 730.525; 7 CFR 1755.522")
SENDER_DBM = Sourced(0.0, "dBm", "a milliwatt into its own resistance: 7 CFR 1755.522")
SENDER_OHM = Sourced(600.0, "ohm", "600 or 900: 7 CFR 1755.522; 600 is a choice")


@dataclass(frozen=True, slots=True)
class Sender(Resistor):
    """A tone behind a resistance; quiet at other frequencies."""

    def alternating(self) -> Iterator[Alternating]:
        """Currents that it drives besides its direct one."""
        into_own_volt = sqrt(1e-3 * 10 ** (SENDER_DBM.value / 10) * self.ohm)
        yield Alternating(SENDER_HZ.value, self.a, self.b, complex(2 * into_own_volt / self.ohm))


def parts(tip: str, ring: str) -> Iterator[Part]:
    """The sender between two legs."""
    yield Sender(tip, ring, SENDER_OHM.value)


def figures() -> dict[str, object]:
    """Every figure of it, as `farend-sim line` prints them."""
    return {
        "sender_hz": SENDER_HZ.value,
        "sender_dbm": SENDER_DBM.value,
        "sender_ohm": SENDER_OHM.value,
    }
