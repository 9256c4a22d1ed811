"""What stands on the pair, as near-end meters ask for it: the bench's face to instruments."""

from dataclasses import dataclass

from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.sound.gains import sound_hz, sounder_gain
from farend_sim.bench.sound.near_ear import NearEar
from farend_sim.control.replies import stretches
from line_model.signal import dbm_to_volt, gain_at
from line_model.spell import Spell
from line_model.standing import Steady

NOISE_HZ = 1000.0
"""Noise is stated between tip and ring; other terminals get their share as this tone does [Hz].
A choice, no source."""


@dataclass(frozen=True, slots=True)
class OnBench:
    """A live pair with the unit's sound and the line's noise, as the ear has them."""

    pair: LivePair
    ear: NearEar

    @property
    def _spell(self) -> Spell:
        return self.pair.spell

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        return self._spell.mean(a, b, from_us, to_us)

    def settled(self, a: str, b: str) -> float | None:
        return self._spell.settled(a, b)

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        return self._spell.impedance(a, b, hz)

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        return (*self.pair.steady((a, b), from_us), *self._of_unit(a, b, from_us, to_us))

    def noise_volt(self, a: str, b: str) -> float:
        here, hz = self.pair.here.pair, (NOISE_HZ,)
        own = abs(self._spell.transfer_ohm(here, here, hz)[NOISE_HZ])
        there = abs(self._spell.transfer_ohm(here, (a, b), hz)[NOISE_HZ])
        return dbm_to_volt(self.ear.noise_dbm) * there / own if own else 0.0

    def _of_unit(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        """The unit's own sound, each frequency for the share of the time in which it sounds."""
        sound, pair = self.ear.sound, self.pair
        if sound is None or not pair.unit_on or to_us <= from_us:
            return ()
        lasts_us: dict[float, int] = {}
        for hz, start_us, end_us in stretches(sound, from_us, to_us):
            inside_us = min(end_us, to_us) - max(start_us, from_us)
            lasts_us[hz] = lasts_us.get(hz, 0) + inside_us
        of = pair.unit.electrical
        gain = sounder_gain(self._spell, of, pair.unit_pair, (a, b), sound_hz(sound))
        span_us = to_us - from_us
        return tuple(
            Steady("unit", hz, of.tone_volt * gain_at(gain, hz), sound.start_us, us / span_us)
            for hz, us in lasts_us.items()
        )
