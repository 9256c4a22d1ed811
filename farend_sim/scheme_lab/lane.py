"""A lab's bench: keys through a pair at rest into the real receiver and the real unit.

Law: it goes from event to event as the bench does, in the bench's order, and makes the same samples
of the same spans, so that on the same draws both hear the same digits at the same samples. Behind
a burst that is refused the bench listens a little longer to what is then noise alone.
"""

from farend_sim.bench.hearing import AtReceiver
from farend_sim.bench.near_ear import NearEar
from farend_sim.bench.still import Still, StillPair, off_pair
from farend_sim.control.ear import Heard
from farend_sim.control.keypad import Keypad, KeypadSettings
from farend_sim.control.receiver import Receiver
from farend_sim.scheme_lab.watched import Watched
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.effects import ContactsSet, Effects, Silence, Sound
from farend_sim.unit.events import DigitHeard, Event
from farend_sim.unit_file import UnitFile
from line_model.signal import SAMPLE_US
from line_model.terminals import NEAR

_KEY_US, _TAIL_US = 200_000, 40_000
"""Rendered at a time, in a key and behind it: most digits are decided within 30 ms."""


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
        self._error_percent = 0.0
        self._still = pair.at(self.watched.unit.closed, False)
        self._office = pair.office()
        self._see_loop()

    # -- verbs ---------------------------------------------------------------------------------

    def press(self, key: str, settings: KeypadSettings) -> None:
        """Send one more key, behind those that wait."""
        self._error_percent = settings.frequency_error_percent
        self._keypad.press(key, self.now_us, settings)
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
        wants = self._keypad.deadline_us, self.watched.unit.deadline_us
        return min((at for at in wants if at is not None), default=None)

    def _go(self, at_us: int) -> None:
        digit = None
        if at_us > self.now_us:
            digit, at_us = self._listen(at_us)
            self.now_us = at_us
        if self._keypad.deadline_us is not None and self._keypad.deadline_us <= at_us:
            self._keypad.wake(at_us)
            self._rewire()
        if digit is not None:
            self.digits += 1
            self._apply(self.watched.handle(DigitHeard(digit), at_us))
        for effects in self.watched.run_to(at_us):
            self._apply(effects)

    def _listen(self, until_us: int) -> tuple[str | None, int]:
        """Play the time to come to the receiver; a digit cuts it short."""
        tones = self._keypad.tones(self.now_us)
        if not (tones or self._receiver.pending):
            return None, until_us
        until_us = min(until_us, self.now_us + (_KEY_US if tones else _TAIL_US))
        unit, file = self.watched.unit, self._unit_file
        at_receiver = AtReceiver(
            spell=self._still,
            unit_pair=self._pair.unit_pair,
            electrical=file.electrical,
            on_pair=not off_pair(unit.closed),
            noise_dbm=self._noise_dbm,
            seed=self._seed,
            limits=file.receiver,
            steady=self._pair.steady(self._still, self._office, self.now_us),
        )
        span_us = self.now_us, until_us
        samples, first = at_receiver.samples(span_us, tones, self._error_percent, unit.sound)
        heard = self._receiver.take(samples, first)
        if heard is None:
            return None, until_us
        at_us = (heard.index + 1) * SAMPLE_US
        return heard.digit, max(self.now_us, min(until_us, at_us))

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
        still: Still = self._pair.at(self.watched.unit.closed, self._keypad.sending)
        if still is not self._still:
            self._still = still
            self._see_loop()

    def _see_loop(self) -> None:
        if self._office is not None:
            self._office.look(self._still, self.now_us)
