"""Which functions leave the unit deaf: asked of the line, then proved by dialling a release.

The line says whether the receiver gets its tones at all. Where it does, a release is dialled on the
bench at several moments of the hold: in its tone the unit hears only what fits into the gaps.
"""

from dataclasses import dataclass

from farend_sim.bench.line_report import line_report
from farend_sim.hold_lab.trial import Held, held
from farend_sim.situation import Situation
from farend_sim.unit.keying import dialled

FUNCTIONS = ("tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair")
"""Every function of a unit that holds."""
_MOMENTS = 6
_APART_US = 137_000
"""Moments of a second, not in step with anything [us]. A choice, no source."""
_PAUSE_US = 1_500_000


@dataclass(frozen=True, slots=True)
class Hearing:
    """Whether the unit hears its keypad in a function, and why not."""

    function: str
    hears: bool
    why: str | None
    release_share: float
    """Of releases dialled on the bench, those that ended the hold."""


def hearing(situation: Situation, function: str) -> Hearing:
    """Ask line and receiver, with the near end bare of its meter; then the bench."""
    receiver = line_report(situation, function)["receiver"]
    if not receiver["hears"]:
        return Hearing(function, False, receiver["why"], 0.0)
    at = held(situation, function, 3600.0)
    released = sum(_released(at, situation, function, moment) for moment in range(_MOMENTS))
    if not released:
        why = f"the line lets tones through, but none of {_MOMENTS} releases was heard whole"
        return Hearing(function, False, why, 0.0)
    return Hearing(function, True, None, released / _MOMENTS)


def _released(at: Held, situation: Situation, function: str, moment: int) -> bool:
    """Dial knock and release at a moment of the hold; whether it is over then."""
    bench, scheme = at.again(), situation.scheme
    bench.advance_to(bench.now_us + _PAUSE_US + moment * _APART_US)
    knock = scheme.knock + scheme.unit_number
    for keys in (knock, dialled(scheme, "release")):
        bench.press(keys)
        assert bench.keypad.ends_us is not None
        bench.advance_to(bench.keypad.ends_us + _PAUSE_US)
    return bench.snapshot().far.state.value != function
