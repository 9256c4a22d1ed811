"""The technician's ear on the pair: what comes back over the line, and never what it means."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from farend_sim.bench.pair.solved import Solved
from farend_sim.bench.sound.gains import sound_hz, sounder_gain
from farend_sim.control.ear import Heard, of_click, of_dial_tone, of_noise, of_sound, of_talk
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.signal import power_sum_dbm, volt_to_dbm
from line_model.standing import Steady
from line_model.terminals import Pair
from line_model.weighting import c_message_db

RINGING = "a coarse buzz"
"""What ringing current is to an ear across the pair."""


@dataclass(frozen=True, slots=True)
class _Sounding:
    sound: Sound
    level_dbm: Mapping[float, float]


class NearEar:
    """Collects what is heard; a reply counts where it ends, a lasting tone wherever it sounds."""

    def __init__(self, electrical: Electrical, noise_dbm: float) -> None:
        self._electrical, self.noise_dbm = electrical, noise_dbm
        self._now: _Sounding | None = None
        self._ended: list[Heard] = []
        self._steady: dict[str, Heard] = {}
        self._since_us = 0

    def begin(self, sound: Sound, now_us: int, spell: Solved, unit_pair: Pair, here: Pair) -> None:
        """A sound of the unit's begins; its level is the line's as it is now."""
        self.end(now_us)
        self._now = self._sounding(sound, spell, unit_pair, here)

    def moved(self, spell: Solved, unit_pair: Pair, here: Pair) -> None:
        """The ear is elsewhere; what sounds goes on, as loud as it is there."""
        if self._now is not None:
            self._now = self._sounding(self._now.sound, spell, unit_pair, here)

    def _sounding(self, sound: Sound, spell: Solved, unit_pair: Pair, here: Pair) -> _Sounding:
        gain = sounder_gain(spell, self._electrical, unit_pair, here, sound_hz(sound))
        volt = self._electrical.tone_volt
        return _Sounding(sound, {f: volt_to_dbm(volt * abs(g)) for f, g in gain.items()})

    def end(self, now_us: int) -> None:
        """The unit falls silent."""
        if self._now is not None:
            self._note(self._now, self._now.sound.start_us, now_us)
        self._now = None

    def click(self, now_us: int, before_volt: float, after_volt: float) -> None:
        """A contact moved: a step across the pair is heard as a click."""
        heard = of_click(volt_to_dbm(abs(after_volt - before_volt)), self.noise_dbm, now_us)
        if heard is not None:
            self._ended.append(heard)

    def stands(self, steady: Iterable[Steady], start_us: int, end_us: int) -> None:
        """Hum and dial tone of a spell: each is heard once a step, at its loudest."""
        by_what: dict[str, list[Steady]] = {}
        for one in steady:
            by_what.setdefault(one.what, []).append(one)
        for what, tones in by_what.items():
            from_us = max(start_us, self._since_us, tones[0].start_us)
            heard = self._of_steady(what, tones, from_us) if from_us < end_us else None
            known = self._steady.get(what)
            if heard is not None and (known is None or heard.level_dbm > known.level_dbm):
                first_s = heard.start_s if known is None else known.start_s
                self._steady[what] = replace(heard, start_s=first_s)

    def _of_steady(self, what: str, tones: list[Steady], from_us: int) -> Heard | None:
        levels = {one.hz: volt_to_dbm(abs(one.phasor_volt)) for one in tones}
        if what in ("dial", "sender"):
            tone = of_dial_tone(levels, self.noise_dbm, from_us)
            return replace(tone, what="tone") if tone and what == "sender" else tone
        if what == "talk":
            return of_talk(levels, self.noise_dbm, from_us)
        # an ear is as deaf to low hum as the weighting says
        loud = power_sum_dbm([level + c_message_db(hz) for hz, level in levels.items()])
        heard = of_noise(loud, hum=True, start_us=from_us)
        return replace(heard, pattern=RINGING) if heard and what == "ringing" else heard

    @property
    def sound(self) -> Sound | None:
        """What the unit sounds, as of the last effect of its."""
        return self._now.sound if self._now else None

    def since(self, start_us: int, now_us: int) -> list[Heard]:
        """Give what was heard since the last call; a tone that goes on is given every time."""
        if self._now is not None and self._now.sound.repeat:
            self._note(self._now, start_us, now_us)
        lasted = now_us > start_us
        rush = of_noise(self.noise_dbm, hum=False, start_us=start_us) if lasted else None
        heard = [*self._ended, *self._steady.values(), *([rush] if rush else [])]
        self._ended, self._steady, self._since_us = [], {}, now_us
        return sorted(heard, key=lambda one: one.start_s)

    def level_dbm(self, now_us: int) -> float | None:
        """Level of the unit's sound at a moment, audible or not; None in silence."""
        if self._now is None:
            return None
        return self._now.level_dbm.get(self._now.sound.hz_at(now_us))

    def _note(self, sounding: _Sounding, start_us: int, end_us: int) -> None:
        heard = of_sound(sounding.sound, sounding.level_dbm, self.noise_dbm, start_us, end_us)
        if heard is not None:
            self._ended.append(heard)
