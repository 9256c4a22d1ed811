"""What is asked of ngspice at the near terminals, and how a gain to the unit is compared."""

import cmath
from collections.abc import Iterable, Mapping
from math import log10

from tests.oracles.ladder import Ladder

PAIRS = (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath"))
NEAR = {"tip": "neartip", "ring": "nearring", "sheath": "0"}
SOURCE_OHM = 600.0


def probed(ladder: Ladder, near: Mapping[str, str] = NEAR) -> tuple[list[str], list[str]]:
    """Put a source across each two terminals, the first of them an ampere of AC.

    Returns what stands across each, and the commands that print these volts and then the ohms, an
    ampere after another with all other sources at rest.
    """
    probes = [ladder.add("i", near[b], near[a], 0.0) for a, b in PAIRS]
    ladder.cards[-3] += " ac 1"
    across = [f"v({near[a]})-v({near[b]})".replace("-v(0)", "") for a, b in PAIRS]
    commands = ["op", *(f"print {each}" for each in across)]
    commands += [f"alter {name} dc=0" for name in ladder.sources]
    for probe, each in zip(probes, across, strict=True):
        commands += [f"alter {probe} dc=1", "op", f"print {each}", f"alter {probe} dc=0"]
    return across, commands


def assert_gain(
    seen: Iterable[complex], across: Iterable[complex], ours: Iterable[complex | None], of: str = ""
) -> None:
    """From a floating 600 ohm source to the unit's legs, within 0.05 dB and 0.01 rad.

    Args:
        seen: the ohms that an ampere across the near pair sees.
        across: the volts that it puts across the unit's legs.
        ours: the same volts with the 600 ohm beside it.
        of: what is compared.
    """
    for z, volt, our in zip(seen, across, ours, strict=True):
        assert our is not None
        ratio = our / SOURCE_OHM / (volt / (SOURCE_OHM + z))
        assert abs(20 * log10(abs(ratio))) < 0.05, of
        assert abs(cmath.phase(ratio)) < 0.01, of
