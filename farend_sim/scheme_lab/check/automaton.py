"""A scheme as a finite automaton: what the decoder may be about, without the keys themselves.

Law 1: written apart from the decoder, from the compiled scheme alone; tests walk both and compare.
Law 2: what cannot matter any more is forgotten, so that a few hundred places stand for all keys.
"""

from typing import NamedTuple

from farend_sim.unit.codes import CompiledCommand, CompiledScheme
from farend_sim.unit.table import Input, State

PAUSE = "pause"
"""The decoder's own timer: too long a gap, or attention has run out."""
UNLOCK = "unlock"
IN_RANGE, OUT_OF_RANGE = -1, -2


class Fit(NamedTuple):
    """A command that the keys so far may become."""

    command: int
    interim: int
    """Of the check digit; 0 without one."""
    value: int
    """Of the argument so far, or IN_RANGE or OUT_OF_RANGE once that is settled."""
    sound: bool
    """Whether all of its argument's keys are digits."""


class Place(NamedTuple):
    """All that decides what further keys will do."""

    attentive: bool = False
    knock: int = 0
    """How many keys of the knock have been heard."""
    length: int = 0
    """How many keys of a command; counted no further where nothing fits."""
    fits: tuple[Fit, ...] = ()
    waiting: int = -1
    """The command that waits to be confirmed."""
    old: bool = False
    """Whether some of the keys are from before too long a gap."""
    paused: bool = False
    refusals: int = 0
    locked: bool = False


class Act(NamedTuple):
    """An input for the table."""

    input: Input
    command: int = -1
    old: bool = False
    """Keys from before too long a gap have helped to make it."""


class Automaton:
    """Steps from place to place; remembers what it has worked out."""

    def __init__(self, scheme: CompiledScheme) -> None:
        self.scheme = scheme
        self._keyed: dict[tuple[Place, str, State], tuple[Place, Act | None]] = {}

    def key(self, place: Place, key: str, state: State) -> tuple[Place, Act | None]:
        """Take one key in a state of the unit."""
        case = place, key, state
        if (known := self._keyed.get(case)) is None:
            known = self._keyed[case] = self._key(place, key, state)
        return known

    def timers(self, place: Place) -> tuple[str, ...]:
        """Which of the decoder's timers run."""
        runs = place.attentive or place.knock > 0
        return (PAUSE,) * runs + (UNLOCK,) * place.locked

    def pause(self, place: Place) -> tuple[Place, Act | None]:
        """Let the decoder's timer run out."""
        kept = place.attentive and place.length > 0 and not place.paused
        if kept and self.scheme.leftover == "keep":
            return place._replace(old=True, paused=True), None
        if kept and self.scheme.leftover == "drop":
            return place._replace(length=0, fits=(), old=False), None
        return self.closed(place), Act(Input.LAPSE) if place.attentive else None

    def unlock(self, place: Place) -> Place:
        return place._replace(locked=False)

    def opened(self, place: Place) -> Place:
        """Attend from now on."""
        return Place(attentive=True, refusals=place.refusals, locked=place.locked)

    def closed(self, place: Place) -> Place:
        """Attend no longer, and forget a knock half heard."""
        return Place(refusals=place.refusals, locked=place.locked)

    def _key(self, place: Place, key: str, state: State) -> tuple[Place, Act | None]:
        if place.locked:
            return place, None
        if not place.attentive:
            return self._knock(place, key)
        if key == self.scheme.restart:
            return self._knock(self.closed(place), key)[0], Act(Input.RESTART)
        if self.scheme.start and (key == self.scheme.start) == (place.length > 0):
            return self._refused(place)
        return self._command(place, key, state)

    def _knock(self, place: Place, key: str) -> tuple[Place, Act | None]:
        knock = self.scheme.knock
        seen = knock[: place.knock] + key
        length = next(n for n in range(len(seen), -1, -1) if knock[:n] == seen[len(seen) - n :])
        if length == len(knock):
            return self.opened(place), Act(Input.KNOCK)
        return place._replace(knock=length), None

    def _command(self, place: Place, key: str, state: State) -> tuple[Place, Act | None]:
        length = place.length + 1
        before = place.fits if place.length else self._beginnings()
        fits = tuple(fit for each in before if (fit := self._fit(each, place.length, key)))
        lengths = [self.scheme.commands[fit.command].length for fit in fits]
        whole = key == self.scheme.end if self.scheme.end else not fits or length in lengths
        if whole:
            match = next((fit for fit, of in zip(fits, lengths, strict=True) if of == length), None)
            return self._judged(place, match, state)
        # Where nothing fits the length no longer matters: nothing can be made of it but a refusal.
        if not fits:
            length, fits = 1, (_NOTHING,)
        return place._replace(length=length, fits=fits, paused=False), None

    def _beginnings(self) -> tuple[Fit, ...]:
        return tuple(Fit(at, 0, 0, True) for at in range(len(self.scheme.commands)))

    def _fit(self, fit: Fit, at: int, key: str) -> Fit | None:
        """Tell what a command makes of one key more; None where it cannot be that command."""
        if fit.command < 0:
            return None
        command = self.scheme.commands[fit.command]
        if at < len(command.prefix):
            if command.prefix[at] != key:
                return None
        elif at >= command.length:
            return None
        elif at == command.length - 1 and command.end:
            return fit if key == command.end else None
        elif not ("0" <= key <= "9"):
            return fit._replace(sound=False)
        if not fit.sound:
            return fit
        interim = fit.interim
        if command.checked_from is not None and at >= command.checked_from:
            interim = self.scheme.check_table[interim][int(key)]
        return fit._replace(interim=interim, value=_value(command, fit.value, at, key))

    def _judged(self, place: Place, fit: Fit | None, state: State) -> tuple[Place, Act | None]:
        if fit is None or not fit.sound or fit.interim:
            return self._refused(place)
        command = self.scheme.commands[fit.command]
        bad_value = command.input is Input.SET_HOLD and fit.value == OUT_OF_RANGE
        if bad_value or state not in command.taken_in:
            return self._refused(place)
        if place.waiting not in (-1, fit.command):
            return self._refused(place)
        if command.confirmed and place.waiting == -1:
            return self.opened(place)._replace(waiting=fit.command), None
        after = place._replace(refusals=0)
        after = self.opened(after) if command.keeps_attention else self.closed(after)
        return after, Act(command.input, fit.command, place.old)

    def _refused(self, place: Place) -> tuple[Place, Act | None]:
        refusals = place.refusals + 1 if self.scheme.refusals_to_lock else 0
        locks = 0 < self.scheme.refusals_to_lock <= refusals
        return Place(refusals=0 if locks else refusals, locked=locks), Act(Input.REFUSE)


_NOTHING = Fit(-1, 0, 0, False)


def _value(command: CompiledCommand, value: int, at: int, key: str) -> int:
    """Add a digit to the argument, and settle the argument's range as soon as that is known."""
    start = len(command.prefix)
    if not start <= at < start + command.argument_digits or value < 0:
        return value
    value = 10 * value + int(key)
    span = 10 ** (command.argument_digits - (at - start) - 1)
    least, most = value * span * 1_000_000, ((value + 1) * span - 1) * 1_000_000
    shortest, longest = command.shortest_us or 0, command.longest_us or 0
    if shortest <= least and most <= longest:
        return IN_RANGE
    # Between two whole seconds nothing is in range either, and it is settled at the last digit.
    return OUT_OF_RANGE if most < shortest or least > longest else value
