"""The unit's receiver at the far end: it is played the time to come, while there is a reason to.

Law: once keys are sent all that stands on the pair is played, pauses too, until nothing is pending;
when it is left alone again is at a multiple of `LOOK_UP_US`, so that slicing time moves nothing.
"""

from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.pair.worn_unit import DEAF_DB, WornUnit
from farend_sim.bench.sound.at_receiver import AtReceiver
from farend_sim.control.keypad import Keypad
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import Receiver
from farend_sim.scenario import Scenario
from farend_sim.situation import Situation
from line_model.signal import SAMPLE_US

LOOK_UP_US = 200_000
"""A choice, no source."""


class FarEar:
    """One receiver, and whether it is listened with."""

    def __init__(
        self, situation: Situation, pair: LivePair, keypad: Keypad, unit: WornUnit
    ) -> None:
        self.receiver = Receiver(situation.unit.receiver)
        self.listens = False
        self._scenario = situation.scenario
        self._pair, self._keypad, self._unit = pair, keypad, unit

    def hear(self, now_us: int, until_us: int) -> tuple[str | None, int]:
        """Play the time to come; returns the digit that cuts it short, and until when it went."""
        sending = self._keypad.sending
        self.listens = self.listens or sending
        if not self.listens:
            return None, until_us
        until_us = min(until_us, (now_us // LOOK_UP_US + 1) * LOOK_UP_US)
        at_receiver = heard_by(self._pair, self._scenario, self.receiver.limits, now_us)
        keys = self._keypad.to_come(now_us)
        samples, first = at_receiver.samples((now_us, until_us), keys, self._unit.sound)
        heard = self.receiver.take(gain_left(self._unit) * samples, first)
        if heard is None:
            looks_up = until_us % LOOK_UP_US == 0
            self.listens = not looks_up or sending or self.receiver.pending
            return None, until_us
        at_us = (heard.index + 1) * SAMPLE_US
        return heard.digit, max(now_us, min(until_us, at_us))


def heard_by(pair: LivePair, scenario: Scenario, limits: ReceiverLimits, now_us: int) -> AtReceiver:
    """What reaches a receiver on the pair as it is now."""
    return AtReceiver(
        spell=pair.spell,
        unit_pair=pair.unit_pair,
        electrical=pair.unit.electrical,
        on_pair=pair.unit_on,
        noise_dbm=scenario.noise.level_dbm,
        seed=scenario.seed,
        limits=limits,
        steady=pair.steady(pair.unit_pair, now_us),
        here=pair.here.pair,
    )


def gain_left(unit: WornUnit) -> float:
    """What a receiver that has gone deaf leaves of its input."""
    return 10 ** (-DEAF_DB / 20) if "deaf" in unit.faults else 1.0
