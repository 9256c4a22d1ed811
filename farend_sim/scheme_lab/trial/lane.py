"""A lab's bench: keys through a pair at rest into the real receiver and the real unit.

Law: it goes from event to event as the bench does, in the bench's order, and makes the same
samples, so that on the same draws both hear the same digits at the same samples. It makes them
some keys ahead; when the line or the unit's own sound changes, what lies ahead is made again.
Behind a string's end the bench listens a little longer to what is then noise alone.
"""

from typing import NamedTuple

from farend_sim.bench.pair.still import StillPair, off_pair
from farend_sim.bench.sound.at_receiver import AtReceiver
from farend_sim.bench.sound.near_ear import NearEar
from farend_sim.control.ear import Heard
from farend_sim.control.growing import Digit
from farend_sim.control.keypad import Keypad, KeypadSettings
from farend_sim.control.receiver import Receiver
from farend_sim.scheme_lab.trial.watched import Watched
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.effects import ContactsSet, Effects, Silence, Sound
from farend_sim.unit.events import DigitHeard, Event
from farend_sim.unit_file import UnitFile
from line_model.signal import SAMPLE_US
from line_model.still import Still
from line_model.terminals import NEAR

_KEYS = 4
"""Made ahead at a time, a choice of speed only: a unit mostly answers a knock of so many."""
_TAIL_US = 40_000
"""Made at a time behind the last key: most digits are decided within 30 ms."""


class _Ahead(NamedTuple):
    """What samples ahead of now were made for."""

    stop_us: int
    still: Still
    sound: Sound | None
    dial: bool


class Lane:
    """One unit on one pair, at a moment of its own time."""

    def __init__(
        self, pair: StillPair, unit: UnitFile, scheme: CompiledScheme, noise_dbm: float, seed: int
    ) -> None:
        self.now_us, self.digits = 0, 0
        self.watched = Watched(scheme, unit.timing, unit.electrical)
        self._pair, self._unit_file = pair, unit
        self._noise_dbm, self._seed = noise_dbm, seed
        self._receiver, self._keypad = Receiver(unit.receiver), Keypad()
        self._ear = NearEar(unit.electrical, noise_dbm)
        self._still = pair.at(self.watched.unit.closed, False, 0)
        self._office = pair.office()
        self._ahead: _Ahead | None = None
        self._see_loop()

    # -- verbs ---------------------------------------------------------------------------------

    def press(self, key: str, settings: KeypadSettings) -> None:
        """Send one more key, behind those that wait."""
        self._keypad.press(key, self.now_us, settings)
        self._ahead = None
        self._rewire()

    def at_unit(self, event: Event) -> None:
        """Do something to the unit: its battery, its button."""
        self._apply(self.watched.handle(event, self.now_us))

    def advance_to(self, until_us: int) -> None:
        """Let time pass, everything due at its end included."""
        while (at_us := self._next_us()) is not None and at_us <= until_us:
            self._go(at_us)
        self._go(until_us)

    def hears(self, start_us: int) -> list[Heard]:
        """What the ear got since it was last asked."""
        return self._ear.since(start_us, self.now_us)

    # -- time ----------------------------------------------------------------------------------

    def _next_us(self) -> int | None:
        wants = self._keypad.ends_us, self.watched.unit.deadline_us, self._line_us()
        return min((at for at in wants if at is not None), default=None)

    def _line_us(self) -> int | None:
        """When the line will change of itself."""
        changes = self._dial_us(), self._pair.changes_us(self.now_us)
        return min((at for at in changes if at is not None), default=None)

    def _dial_us(self) -> int | None:
        """When dial tone will begin, if it will."""
        since_us = self._office.since_us if self._office else None
        return since_us if since_us is not None and since_us > self.now_us else None

    def _go(self, at_us: int) -> None:
        digit = None
        if at_us > self.now_us:
            digit, at_us = self._listen(at_us)
            self.now_us = at_us
            self._rewire()
        if self._keypad.ends_us is not None and self._keypad.ends_us <= at_us:
            self._keypad.wake(at_us)
            self._rewire()
        if digit is not None:
            self.digits += 1
            self._apply(self.watched.handle(DigitHeard(digit), at_us))
        for effects in self.watched.run_to(at_us):
            self._apply(effects)

    def _listen(self, until_us: int) -> tuple[str | None, int]:
        """Play the time to come to the receiver; a digit cuts it short."""
        if not (self._keypad.sending or self._receiver.pending):
            return None, until_us
        heard = None if self._holds(self._ahead) else self._look_ahead()
        if self._ahead is not None:
            until_us = min(until_us, self._ahead.stop_us)
        heard = heard or self._receiver.hear(-(-until_us // SAMPLE_US))
        if heard is None:
            return None, until_us
        at_us = (heard.index + 1) * SAMPLE_US
        return heard.digit, max(self.now_us, min(until_us, at_us))

    def _holds(self, ahead: _Ahead | None) -> bool:
        """Say whether samples that were made are still what will come."""
        if ahead is None or self.now_us >= ahead.stop_us or ahead.still is not self._still:
            return False
        sound, was = self.watched.unit.sound, ahead.sound
        return ahead.dial == self._dials and (
            sound is was or (sound is None and _is_over(was, self.now_us))
        )

    @property
    def _dials(self) -> bool:
        return self._office is not None and self._office.since_us is not None

    def _look_ahead(self) -> Digit | None:
        """Make the samples of the next keys, or of what is left of the last one."""
        now_us, keypad = self.now_us, self._keypad
        keys = keypad.to_come(now_us)
        stop_us = keypad.ends_us or now_us + _TAIL_US
        if len(keys) > _KEYS:
            stop_us = keys[_KEYS].start_us
        if (line_us := self._line_us()) is not None:
            stop_us = min(stop_us, line_us)
        unit, file = self.watched.unit, self._unit_file
        at_receiver = AtReceiver(
            spell=self._still,
            unit_pair=self._pair.unit_pair,
            electrical=file.electrical,
            on_pair=not off_pair(unit.closed),
            noise_dbm=self._noise_dbm,
            seed=self._seed,
            limits=file.receiver,
            steady=self._pair.steady(self._still, self._office, now_us),
        )
        samples, first = at_receiver.samples((now_us, stop_us), keys[:_KEYS], unit.sound)
        self._receiver.forgo(first)
        heard = self._receiver.expect(samples, first)
        made = _Ahead(stop_us, self._still, unit.sound, self._dials)
        self._ahead = made if heard is None else None
        return heard

    # -- coupling ------------------------------------------------------------------------------

    def _apply(self, effects: Effects) -> None:
        for effect in effects:
            if isinstance(effect, ContactsSet):
                self._rewire()
        for effect in effects:
            if isinstance(effect, Sound):
                self._ear.begin(effect, self.now_us, self._still, self._pair.unit_pair, NEAR.pair)
            elif isinstance(effect, Silence):
                self._ear.end(self.now_us)

    def _rewire(self) -> None:
        still: Still = self._pair.at(self.watched.unit.closed, self._keypad.sending, self.now_us)
        if still is not self._still:
            self._still = still
            self._see_loop()

    def _see_loop(self) -> None:
        if self._office is not None:
            self._office.look(self._still, self.now_us)


def _is_over(sound: Sound | None, now_us: int) -> bool:
    """Say whether a sound has come to its own end, as its samples did."""
    if sound is None or sound.repeat:
        return sound is None
    return sound.start_us + sound.duration_us <= now_us
