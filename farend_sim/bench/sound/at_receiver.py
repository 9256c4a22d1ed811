"""What reaches the unit's receiver: samples of one spell's span, each source through the line.

Law: nothing is passed by fiat. Keypad tones go through the gain of the line as it is, the unit's
own sound and the noise are added, and the receiver gets samples.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from farend_sim.bench.pair.solved import Solved
from farend_sim.bench.sound.gains import keypad_gain, sound_hz, sounder_gain
from farend_sim.control.keypad import Burst, add_key
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.replies import samples as sound_samples
from farend_sim.control.steady import KINDS
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt, sample_span, sine
from line_model.standing import Steady
from line_model.terminals import NEAR, Pair


@dataclass(frozen=True, slots=True)
class AtReceiver:
    """One span at the receiver."""

    spell: Solved
    unit_pair: Pair
    electrical: Electrical
    on_pair: bool
    """False while the unit is off the pair: then only noise is left."""
    noise_dbm: float
    seed: int
    limits: ReceiverLimits
    steady: tuple[Steady, ...] = ()
    """What else stands across the unit: its front end takes its share off."""
    here: Pair = NEAR.pair
    """Where the keypad is."""

    def samples(
        self, span_us: tuple[int, int], keys: Iterable[Burst], sound: Sound | None
    ) -> tuple[Samples, int]:
        """Return a span's samples [V] and the absolute index of the first.

        Args:
            span_us: from when until when.
            keys: those that may sound in it, each in its own time.
            sound: the unit's own.
        """
        first, last = sample_span(*span_us)
        out = dbm_to_volt(self.noise_dbm) * white(self.seed, "receiver", first, last)
        if self.on_pair:
            for burst in (key for key in keys if key.start_us < span_us[1]):
                gain = keypad_gain(self.spell, self.here, self.unit_pair, burst.sent_hz)
                add_key(out, first, burst, gain)
            if sound is not None:
                out += self._own(sound, first, last)
            out = self._front_end(out, first, last)
        return out, first

    def _front_end(self, wanted: Samples, first: int, last: int) -> Samples:
        """Add dial tone and hum, clip what overloads, then take the rejected share off."""
        limits = self.limits
        filters = {"dial": limits.dial_rejection_db, "hum": limits.hum_rejection_db, "nothing": 0.0}
        total, rejected = wanted, np.zeros_like(wanted)
        for one in self.steady:
            beside = sine(one.hz, one.phasor_volt, one.start_us, first, last)
            total = total + beside
            rejected += beside * (1 - 10 ** (-filters[KINDS[one.what].taken_off] / 20))
        # a clipped input keeps of its interference what the filter then cannot take away
        return np.clip(total, -limits.overload_volt, limits.overload_volt) - rejected

    def _own(self, sound: Sound, first: int, last: int) -> Samples:
        of = self.electrical
        gain = sounder_gain(self.spell, of, self.unit_pair, self.unit_pair, sound_hz(sound))
        volt = {f: of.tone_volt * value for f, value in gain.items()}
        return sound_samples(sound, volt, first, last)
