"""What is switched in time for the check against ngspice, and a switch there."""

from dataclasses import dataclass

from farend_sim.unit.contacts import Closed, Contact
from tests.oracles.ladder import Ladder


@dataclass(frozen=True)
class Phase:
    """From a moment on: what the unit has closed, the meter's range, and where it is clipped."""

    start_us: int
    closed: Closed
    range_ohm: float
    across: tuple[str, str] = ("tip", "ring")


REST: Closed = frozenset()
_STRAP = frozenset({Contact.STRAP})
_TIP = frozenset({Contact.TIP_GROUND})
_BOTH = frozenset({Contact.TIP_GROUND, Contact.RING_GROUND})
_TONE = frozenset({Contact.TONE})
END_US = 40_000
STORIES = {
    "strap, range change, leg to ground": (
        Phase(0, REST, 1e5),
        Phase(8_000, _STRAP, 1e5),
        Phase(14_000, _STRAP, 1e3),
        Phase(20_000, REST, 1e3),
        Phase(26_000, _TIP, 1e3),
        Phase(34_000, _BOTH, 1e3),
    ),
    "leg to sheath, tone, insulation range": (
        Phase(0, _TIP, 1e3, ("tip", "sheath")),
        Phase(5_000, REST, 1e3, ("tip", "sheath")),
        Phase(12_000, _TONE, 1e4, ("tip", "sheath")),
        Phase(22_000, REST, 1e6, ("tip", "sheath")),
        Phase(30_000, _BOTH, 1e6, ("tip", "sheath")),
    ),
    "reversed leads on ring": (
        Phase(0, REST, 1e4, ("sheath", "ring")),
        Phase(3_000, _BOTH, 1e4, ("sheath", "ring")),
        Phase(9_000, _STRAP, 1e4, ("sheath", "ring")),
        Phase(16_000, REST, 1e4, ("sheath", "ring")),
    ),
}


def switch(ladder: Ladder, a: str, b: str, ohm: float, when: list[tuple[int, bool]]) -> None:
    """A conductance that steps within 50 ns, from nothing to that of the closed contact."""
    if not any(closed for _, closed in when):
        return
    siemens, was = 1 / ohm, when[0][1]
    points = [f"0 {siemens * was!r}"]
    for start_us, closed in when[1:]:
        if closed != was:
            points += [f"{start_us}u {siemens * was!r}", f"{start_us}.05u {siemens * closed!r}"]
        was = closed
    control, k = ladder.node(), len(ladder.cards)
    ladder.cards += [
        f"v{k} {control} 0 pwl({' '.join(points)})",
        f"b{k} {a} {b} i = v({a},{b}) * v({control})",
    ]
