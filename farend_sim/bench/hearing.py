"""What reaches the unit's receiver: samples of one spell's span, each source through the line.

Law: nothing is passed by fiat. Keypad tones go through the gain of the line as it is, the unit's
own sound and the noise are added, and the receiver gets samples.
"""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from farend_sim.control.keypad import HIGH_HZ, KEYPAD_OHM, LOW_HZ, Burst, Tone
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.replies import samples as sound_samples
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt, gain_at, sample_span, sine
from line_model.standing import Steady as Steady
from line_model.terminals import NEAR, Pair


class Solved(Protocol):
    """What sound needs of a circuit: a spell has it, and so has a pair at rest."""

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) when all has settled [V]; None between islands."""

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> dict[float, complex]:
        """Voltage across one pair of nodes for each ampere into another [V/A]."""

    def hum_volt(self, across: Pair) -> dict[float, complex]:
        """What induction puts across a pair of nodes [V rms], by frequency."""


def keypad_gain(
    spell: Solved, here: Pair, across: Pair, error_percent: float
) -> dict[float, complex]:
    """Voltage across a pair of nodes over the EMF of a keypad here, at its eight tones as sent."""
    hz = tuple(f * (1 + error_percent / 100) for f in (*LOW_HZ, *HIGH_HZ))
    ohm = spell.transfer_ohm(here, across, hz)
    return {f: value / KEYPAD_OHM for f, value in ohm.items()}


def sounder_gain(
    spell: Solved, electrical: Electrical, unit_pair: Pair, across: Pair, hz: tuple[float, ...]
) -> dict[float, complex]:
    """Voltage across a pair of nodes over the unit's sounder's EMF."""
    ohm = spell.transfer_ohm(unit_pair, across, hz)
    return {
        f: value / (electrical.tone_ohm + 1 / (2j * np.pi * f * electrical.tone_farad))
        for f, value in ohm.items()
    }


def sound_hz(sound: Sound) -> tuple[float, ...]:
    """The frequencies of a sound, silence left out."""
    return tuple(sorted({segment.hz for segment in sound.segments if segment.hz > 0}))


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
        self, span_us: tuple[int, int], tones: tuple[Tone, ...], error: float, sound: Sound | None
    ) -> tuple[Samples, int]:
        """Return the span's samples [V] and the absolute index of the first."""
        return self._made(span_us, [(tone, span_us[1]) for tone in tones], error, sound)

    def of_keys(
        self, span_us: tuple[int, int], keys: list[Burst], error: float, sound: Sound | None
    ) -> tuple[Samples, int]:
        """Return the samples of a span in which several keys sound, each in its own time."""
        ends = [(tone, burst.end_us) for burst in keys for tone in burst.tones]
        return self._made(span_us, ends, error, sound)

    def _made(
        self,
        span_us: tuple[int, int],
        tones: list[tuple[Tone, int]],
        error: float,
        sound: Sound | None,
    ) -> tuple[Samples, int]:
        first, last = sample_span(*span_us)
        out = dbm_to_volt(self.noise_dbm) * white(self.seed, "receiver", first, last)
        if self.on_pair:
            gain = keypad_gain(self.spell, self.here, self.unit_pair, error)
            for tone, end_us in tones:
                phasor = tone.emf_rms_volt * gain_at(gain, tone.hz)
                on, off = sample_span(max(tone.start_us, span_us[0]), min(end_us, span_us[1]))
                out[on - first : off - first] += sine(tone.hz, phasor, tone.start_us, on, off)
            if sound is not None:
                out += self._own(sound, first, last)
            out = self._front_end(out, first, last)
        return out, first

    def _front_end(self, wanted: Samples, first: int, last: int) -> Samples:
        """Add dial tone and hum, clip what overloads, then take the rejected share off."""
        limits = self.limits
        share = {"dial": limits.dial_rejection_db, "hum": limits.hum_rejection_db}
        share["ringing"] = share["hum"]
        total, rejected = wanted, np.zeros_like(wanted)
        for one in self.steady:
            beside = sine(one.hz, one.phasor_volt, one.start_us, first, last)
            total = total + beside
            rejected += beside * (1 - 10 ** (-share.get(one.what, 0.0) / 20))
        # a clipped input keeps of its interference what the filter then cannot take away
        return np.clip(total, -limits.overload_volt, limits.overload_volt) - rejected

    def _own(self, sound: Sound, first: int, last: int) -> Samples:
        of = self.electrical
        gain = sounder_gain(self.spell, of, self.unit_pair, self.unit_pair, sound_hz(sound))
        volt = {f: of.tone_volt * value for f, value in gain.items()}
        return sound_samples(sound, volt, first, last)
