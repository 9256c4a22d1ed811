"""The technician's ear on the pair: what comes back over the line, and never what it means."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from farend_sim.bench.pair.solved import Solved
from farend_sim.bench.sound.gains import sound_hz, sounder_gain
from farend_sim.control.ear import Heard, of_click, of_noise, of_sound
from farend_sim.control.steady import of_steady
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.signal import volt_to_dbm
from line_model.standing import Steady
from line_model.terminals import Pair

Listener = Literal["step", "screen"]
"""Who asks what was heard: what comes of a step may not depend on how often a screen looks."""


@dataclass(frozen=True, slots=True)
class _Sounding:
    sound: Sound
    level_dbm: Mapping[float, float]


class _Got:
    """What has come to one listener since it last asked."""

    def __init__(self, since_us: int = 0) -> None:
        self.since_us = since_us
        self.ended: list[Heard] = []
        self.steady: dict[str, Heard] = {}

    def take_steady(self, what: str, heard: Heard, from_s: float) -> None:
        """Hum, or a steady tone: told once, at its loudest, from when it was first there."""
        known = self.steady.get(what)
        if known is None or heard.level_dbm > known.level_dbm:
            self.steady[what] = replace(heard, start_s=known.start_s if known else from_s)


class NearEar:
    """Collects what is heard; a reply counts where it ends, a lasting tone wherever it sounds."""

    def __init__(self, electrical: Electrical, noise_dbm: float) -> None:
        self._electrical, self.noise_dbm = electrical, noise_dbm
        self._now: _Sounding | None = None
        self._got: dict[Listener, _Got] = {"step": _Got()}

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
            self._tell(self._of_sound(self._now, self._now.sound.start_us, now_us))
        self._now = None

    def click(self, now_us: int, before_volt: float, after_volt: float) -> None:
        """A contact moved: a step across the pair is heard as a click."""
        heard = of_click(volt_to_dbm(abs(after_volt - before_volt)), self.noise_dbm, now_us)
        self._tell(heard)

    def stands(self, steady: Iterable[Steady], start_us: int, end_us: int) -> None:
        """What sounds steadily in a spell: each listener is told it once, at its loudest."""
        by_what: dict[str, list[Steady]] = {}
        for one in steady:
            by_what.setdefault(one.what, []).append(one)
        for what, tones in by_what.items():
            from_us = max(start_us, tones[0].start_us)
            asks = [got for got in self._got.values() if max(from_us, got.since_us) < end_us]
            heard = of_steady(tones, self.noise_dbm, from_us) if asks else None
            if heard is not None:
                for got in asks:
                    got.take_steady(what, heard, max(from_us, got.since_us) / 1e6)

    @property
    def sound(self) -> Sound | None:
        """What the unit sounds, as of the last effect of its."""
        return self._now.sound if self._now else None

    def since(self, start_us: int, now_us: int, who: Listener = "step") -> list[Heard]:
        """Give what was heard since the same listener last asked.

        A tone that goes on is given every time. Who asks for the first time listens from now on.
        """
        got = self._got.get(who, _Got(now_us))
        self._got[who] = _Got(now_us)
        tone = self._now if self._now is not None and self._now.sound.repeat else None
        heard = (
            *got.ended,
            self._of_sound(tone, start_us, now_us) if tone else None,
            *got.steady.values(),
            of_noise(self.noise_dbm, start_us) if now_us > start_us else None,
        )
        return sorted((one for one in heard if one is not None), key=lambda one: one.start_s)

    def level_dbm(self, now_us: int) -> float | None:
        """Level of the unit's sound at a moment, audible or not; None in silence."""
        if self._now is None:
            return None
        return self._now.level_dbm.get(self._now.sound.hz_at(now_us))

    def _tell(self, heard: Heard | None) -> None:
        if heard is not None:
            for got in self._got.values():
                got.ended.append(heard)

    def _of_sound(self, sounding: _Sounding, start_us: int, end_us: int) -> Heard | None:
        return of_sound(sounding.sound, sounding.level_dbm, self.noise_dbm, start_us, end_us)
