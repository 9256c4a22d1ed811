"""Dialling: somebody keys a command until a reply says that it was taken, or patience ends.

Law: the person knows what comes back over the line and nothing else; the judge knows what the unit
took and nothing else.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from farend_sim.control.ear import Heard
from farend_sim.control.keypad import KeypadSettings
from farend_sim.control.replies import pattern
from farend_sim.hands import SHORTEST_MS
from farend_sim.scheme_lab.population import Fingers
from farend_sim.scheme_lab.slips import typed
from farend_sim.scheme_lab.trial.draw import Person, Wish
from farend_sim.scheme_lab.trial.watched import Took
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.keying import keys_for
from farend_sim.unit.table import Input

_LOOK_US = 200_000
"""How often somebody who listens asks whether that was it."""


class Rig(Protocol):
    """What a person has in hand: a lane of the lab, or a bench."""

    now_us: int

    def press(self, key: str, settings: KeypadSettings) -> None:
        """Send one more key, behind those that wait."""

    def advance_to(self, until_us: int) -> None:
        """Let time pass."""

    def hears(self, start_us: int) -> list[Heard]:
        """What the ear got since it was last asked."""


@dataclass(frozen=True, slots=True)
class Meant:
    """What is to be done, in a scheme's own keys."""

    knock: str
    command: str
    input: Input
    hold_us: int | None
    """What set-hold is to set."""
    replies: frozenset[str]
    """Any of these patterns says that it was taken."""
    greeting: str


@dataclass(frozen=True, slots=True)
class Done:
    """What came of a job."""

    outcome: str
    """`done`, `lost`, `refused` or `other`: not done and something else done, or besides."""
    first: bool
    """Done, and nothing else, at the first try."""
    tries: int
    keys: int
    duration_us: int


def meant(scheme: CompiledScheme, wish: Wish) -> Meant:
    """Return a wish in the keys of a scheme."""
    command = scheme.of(wish.does)
    first, last = command.values.start, command.values.stop - 1
    seconds = round(first + wish.argument * (last - first)) if command.argument_digits else None
    names = [n for n in scheme.replies if n == command.reply or n.startswith(f"{command.reply}-")]
    return Meant(
        knock=scheme.knock,
        command=keys_for(scheme, command, seconds),
        input=command.input,
        hold_us=None if seconds is None else seconds * 1_000_000,
        replies=frozenset(pattern(scheme.replies[name]) for name in names),
        greeting=pattern(scheme.replies["knock"]),
    )


@dataclass(frozen=True, slots=True)
class Hand:
    """A person's hand at one job: slips and pace come from two streams of draws."""

    fingers: Fingers
    person: Person
    pad: str
    slips: Iterator[float]
    pace: Iterator[float]

    def dial(self, rig: Rig, keys: str) -> int:
        """Dial keys, and let time pass until the last has sounded; return how many were typed."""
        made = typed(self.fingers, self.person.slip_percent, keys, self.pad, self.slips)
        ends_us = rig.now_us
        for key in made:
            settings = replace(
                self.person.keypad,
                on_ms=self._paced(self.person.on_ms),
                off_ms=self._paced(self.person.off_ms),
            )
            rig.press(key, settings)
            ends_us += 1000 * (settings.on_ms + settings.off_ms)
        rig.advance_to(ends_us)
        return len(made)

    def _paced(self, own_ms: float) -> int:
        # two even draws: a triangle about the person's own pace
        sway = (next(self.pace) + next(self.pace) - 1) * self.fingers.spread_percent / 40
        return int(max(SHORTEST_MS, round(own_ms * (1 + sway))))

    def listen(self, rig: Rig, wanted: frozenset[str]) -> bool:
        """Wait for one of some patterns; False when something else is heard, or nothing at all."""
        until_us = rig.now_us + round(1e6 * self.fingers.patience_s)
        while rig.now_us < until_us:
            start_us = rig.now_us
            rig.advance_to(min(until_us, start_us + _LOOK_US))
            heard = [one.pattern for one in rig.hears(start_us) if one.what == "reply"]
            if heard:
                return wanted.issuperset(heard[-1:])
        return False


def carry_out(rig: Rig, hand: Hand, want: Meant, took: Callable[[], list[Took]]) -> Done:
    """Do a job, and judge it.

    Args:
        rig: an idle unit on a pair.
        hand: who dials.
        want: what is to be done.
        took: what the unit has taken since the job began.
    """
    start_us, keys, tries, first = rig.now_us, 0, 0, False
    before = 0
    for tries in range(1, hand.fingers.tries + 1):
        before = len(took())
        more, believed = _try(rig, hand, want)
        keys += more
        if tries == 1:
            first = _judged(took(), want, 0) == "done"
        if believed:
            break
        rig.advance_to(rig.now_us + hand.person.react_us)
    outcome = _judged(took(), want, before)
    return Done(outcome, first and outcome == "done", tries, keys, rig.now_us - start_us)


def _try(rig: Rig, hand: Hand, want: Meant) -> tuple[int, bool]:
    """Dial once; return how many keys were typed, and whether the right reply was heard."""
    if not hand.person.listens:
        return hand.dial(rig, want.knock + want.command), hand.listen(rig, want.replies)
    keys = hand.dial(rig, want.knock)
    if not hand.listen(rig, frozenset({want.greeting})):
        return keys, False
    rig.advance_to(rig.now_us + hand.person.react_us)
    return keys + hand.dial(rig, want.command), hand.listen(rig, want.replies)


def _judged(took: list[Took], want: Meant, last_try: int) -> str:
    commands = [one for one in took if one.input.does is not None]
    right = [one for one in commands if _is(one, want)]
    if len(right) < len(commands):
        return "other"
    if right:
        return "done"
    refused = any(one.input is Input.REFUSE for one in took[last_try:])
    return "refused" if refused else "lost"


def _is(one: Took, want: Meant) -> bool:
    return one.input is want.input and (want.hold_us is None or one.hold_us == want.hold_us)
