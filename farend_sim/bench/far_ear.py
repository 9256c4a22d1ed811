"""The unit's receiver at the far end: it is played the time to come, while there is a reason to.

Law: once keys are sent all that stands on the pair is played, pauses too, until nothing is pending;
when it is left alone again is at a multiple of `LOOK_UP_US`, so that slicing time moves nothing.
"""

from dataclasses import dataclass

from farend_sim.bench.faults import DEAF_DB, WornUnit
from farend_sim.bench.hearing import AtReceiver
from farend_sim.bench.live_pair import LivePair
from farend_sim.control.keypad import Keypad
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import Receiver
from farend_sim.scenario import Scenario
from line_model.signal import SAMPLE_US

LOOK_UP_US = 200_000
"""A choice, no source."""


@dataclass(frozen=True, slots=True)
class Playing:
    """What stands on the pair while it is played: the line as it is, the keypad, the unit."""

    pair: LivePair
    keypad: Keypad
    error_percent: float
    """The keypad's own frequency error."""
    unit: WornUnit


class FarEar:
    """One receiver, and whether it is listened with."""

    def __init__(self, scenario: Scenario, limits: ReceiverLimits) -> None:
        self.receiver = Receiver(limits)
        self.listens = False
        self._scenario = scenario

    def hear(self, playing: Playing, now_us: int, until_us: int) -> tuple[str | None, int]:
        """Play the time to come; returns the digit that cuts it short, and until when it went."""
        sending = playing.keypad.sending
        self.listens = self.listens or sending
        if not self.listens:
            return None, until_us
        until_us = min(until_us, (now_us // LOOK_UP_US + 1) * LOOK_UP_US)
        samples, first = self._at_receiver(playing.pair, now_us).samples(
            (now_us, until_us),
            playing.keypad.tones(now_us),
            playing.error_percent,
            playing.unit.sound,
        )
        heard = self.receiver.take(gain_left(playing.unit) * samples, first)
        if heard is None:
            looks_up = until_us % LOOK_UP_US == 0
            self.listens = not looks_up or sending or self.receiver.pending
            return None, until_us
        at_us = (heard.index + 1) * SAMPLE_US
        return heard.digit, max(now_us, min(until_us, at_us))

    def _at_receiver(self, pair: LivePair, now_us: int) -> AtReceiver:
        return AtReceiver(
            spell=pair.spell,
            unit_pair=pair.unit_pair,
            electrical=pair.unit.electrical,
            on_pair=pair.unit_on,
            noise_dbm=self._scenario.noise.level_dbm,
            seed=self._scenario.seed,
            limits=self.receiver.limits,
            steady=pair.steady(pair.unit_pair, now_us),
            here=pair.here.pair,
        )


def gain_left(unit: WornUnit) -> float:
    """What a receiver that has gone deaf leaves of its input."""
    return 10 ** (-DEAF_DB / 20) if "deaf" in unit.faults else 1.0
