"""What a hold is up against on a plant: whether the unit hears in it, and what commands cost.

The line says whether the receiver gets its tones at all. Where it does, a release is dialled on the
bench at several moments of the hold: in its tone the unit hears only what fits into the gaps.
"""

from dataclasses import dataclass

from farend_sim.bench.line_report import receiver_of
from farend_sim.hold_lab.cost import Terms
from farend_sim.hold_lab.on_pair.on_bench import PAUSE_US, Held, dial, held
from farend_sim.hold_lab.scheme_times import command_s, release_s
from farend_sim.situation import Situation

_MOMENTS = 6
_APART_US = 137_000
"""Moments of a second, not in step with anything [us]. A choice, no source."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """Whether the unit hears its keypad in a function, and why not."""

    function: str
    why: str | None = None
    release_share: float = 0.0
    """Of releases dialled on the bench, those that ended the hold."""

    @property
    def hears(self) -> bool:
        return self.release_share > 0


def terms_of(
    situation: Situation, heard: Hearing, own_command_s: float | None, patience: int
) -> Terms:
    """The terms in a function, with a command's cost in place of what the scheme comes to."""
    return Terms(
        command_s=own_command_s or command_s(situation, heard.function),
        release_share=heard.release_share,
        release_s=release_s(situation) if heard.hears else 0.0,
        patience=patience,
    )


def hearing(situation: Situation, function: str) -> Hearing:
    """Ask line and receiver, with the near end bare of its meter; then the bench."""
    receiver = receiver_of(situation, function)
    if not receiver.hears:
        return Hearing(function, receiver.why)
    at = held(situation, function, 3600.0)
    released = sum(_released(at, situation, function, moment) for moment in range(_MOMENTS))
    if not released:
        why = f"the line lets tones through, but none of {_MOMENTS} releases was heard whole"
        return Hearing(function, why)
    return Hearing(function, release_share=released / _MOMENTS)


def _released(at: Held, situation: Situation, function: str, moment: int) -> bool:
    """Dial knock and release at a moment of the hold; whether it is over then."""
    bench = at.again()
    bench.advance_to(bench.now_us + moment * _APART_US)
    dial(bench, situation.scheme, "release")
    bench.advance_to(bench.now_us + PAUSE_US)
    return bench.snapshot().far.state.value != function
