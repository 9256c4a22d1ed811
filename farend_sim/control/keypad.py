"""The technician's keypad: two tones a key, between tip and ring behind 600 ohm.

Law: pure; time is an argument. It says when it next wants attention and what sounds at a moment.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, NamedTuple

import numpy as np
from annotated_types import Ge, Gt, Le

from line_model.signal import Samples, dbm_to_volt, gain_at, sample_span, sine

LOW_HZ = (697.0, 770.0, 852.0, 941.0)
"""The rows. Source: ITU-T Q.23 (11/88), from memory."""
HIGH_HZ = (1209.0, 1336.0, 1477.0, 1633.0)
"""The columns. Source: ITU-T Q.23 (11/88), from memory."""
TONES_HZ = (*LOW_HZ, *HIGH_HZ)
_ROWS = ("123A", "456B", "789C", "*0#D")
PLACES = {key: (y, x) for y, row in enumerate(_ROWS) for x, key in enumerate(row)}
"""Row and column of each key. Source: ITU-T E.161, from memory."""
KEYS: dict[str, tuple[float, float]] = {
    key: (LOW_HZ[row], HIGH_HZ[column]) for key, (row, column) in PLACES.items()
}
"""Each key's two tones. Source: ITU-T Q.23 (11/88), from memory."""

KEYPAD_OHM = 600.0
"""Source resistance. Source: telephone practice, a matched source."""
PAUSE_KEY = ","
PAUSE_US = 1_000_000
"""What a comma is worth. Source: invented for the step files."""
LEVELS_DBM = (-80.0, 10.0)
LONGEST_MS = 60_000
"""A minute. These limits only catch slips. Invented here."""
Milliseconds = Annotated[int, Gt(0), Le(LONGEST_MS)]


@dataclass(frozen=True, slots=True)
class KeypadSettings:
    """How the keys sound: the `[keypad]` table of a scenario."""

    level_dbm: Annotated[float, Ge(LEVELS_DBM[0]), Le(LEVELS_DBM[1])] = -6.0
    """Low tone into 600 ohm. Source: common practice, no source."""
    twist_db: Annotated[float, Ge(-20), Le(20)] = 2.0
    """High tone over the low one. Source: ETSI TBR 21 allows 1 to 4 dB, from memory."""
    on_ms: Milliseconds = 80
    """Source: common practice; TBR 21 asks 65 ms or more, from memory."""
    off_ms: Milliseconds = 80
    """Source: as above."""
    frequency_error_percent: Annotated[float, Ge(-10), Le(10)] = 0.0
    """Of both tones. Source: ITU-T Q.23 allows 1.8 %, from memory."""

    def tone_dbm(self, hz: float) -> float:
        """Level of one of the eight tones into 600 ohm, by its nominal frequency [dBm]."""
        return self.level_dbm + (self.twist_db if hz in HIGH_HZ else 0.0)

    def as_sent_hz(self, hz: float) -> float:
        """What it is in truth [Hz]."""
        return hz * (1.0 + self.frequency_error_percent / 100.0)


class Tone(NamedTuple):
    """One sine of the keypad's; it begins with phase zero at start_us."""

    hz: float
    emf_rms_volt: float
    start_us: int


class Burst(NamedTuple):
    """One key held down."""

    key: str
    start_us: int
    end_us: int
    settings: KeypadSettings

    @property
    def tones(self) -> tuple[Tone, Tone]:
        """Its two tones: the EMF is twice the voltage that 600 ohm would show."""
        low_hz, high_hz = KEYS[self.key]
        return self._tone(low_hz), self._tone(high_hz)

    @property
    def sent_hz(self) -> tuple[float, ...]:
        """All eight tones as its keypad sends them."""
        return tuple(map(self.settings.as_sent_hz, TONES_HZ))

    def _tone(self, hz: float) -> Tone:
        of = self.settings
        return Tone(of.as_sent_hz(hz), 2.0 * dbm_to_volt(of.tone_dbm(hz)), self.start_us)


class Keypad:
    """Keys waiting to be sent and the one that sounds."""

    def __init__(self) -> None:
        self._bursts: list[Burst] = []
        self._now_us = 0
        self.ends_us: int | None = None
        """End of the string being sent, the pause behind its last key included."""

    def press(self, keys: str, now_us: int, settings: KeypadSettings) -> None:
        """Queue keys; they follow those still waiting, with a full pause between."""
        unknown = sorted({key for key in keys if key != PAUSE_KEY and key not in KEYS})
        if unknown:
            raise ValueError(f"no such keys: {' '.join(unknown)}")
        self.wake(now_us)
        for burst, ends_us in _string(keys, self.ends_us or now_us, settings):
            self.ends_us = ends_us
            if burst is not None:
                self._bursts.append(burst)

    def wake(self, now_us: int) -> None:
        """Forget what is over."""
        self._now_us = now_us
        self._bursts = [burst for burst in self._bursts if burst.end_us > now_us]
        if self.ends_us is not None and self.ends_us <= now_us:
            self.ends_us = None

    @property
    def deadline_us(self) -> int | None:
        """The next beginning or end of a tone, or of the string."""
        if self.ends_us is None:
            return None
        edges = [edge for burst in self._bursts[:1] for edge in (burst.start_us, burst.end_us)]
        return min(edge for edge in (*edges, self.ends_us) if edge > self._now_us)

    @property
    def sending(self) -> bool:
        """Whether its 600 ohm is on the pair: from the first key to the last pause."""
        return self.ends_us is not None

    def burst(self, at_us: int) -> Burst | None:
        """Return the key that sounds at a moment."""
        held = (burst for burst in self._bursts if burst.start_us <= at_us < burst.end_us)
        return next(held, None)

    def to_come(self, at_us: int) -> list[Burst]:
        """Return the keys that sound or have yet to sound."""
        return [burst for burst in self._bursts if burst.end_us > at_us]

    def waiting(self, at_us: int) -> str:
        """Return the keys that have yet to sound."""
        return "".join(burst.key for burst in self._bursts if burst.start_us > at_us)


def _string(keys: str, at_us: int, settings: KeypadSettings) -> Iterator[tuple[Burst | None, int]]:
    """Yield each key's burst (none for a comma) and the moment at which the next may begin."""
    for key in keys:
        if key == PAUSE_KEY:
            at_us += PAUSE_US
            yield None, at_us
            continue
        end_us = at_us + 1000 * settings.on_ms
        burst = Burst(key, at_us, end_us, settings)
        at_us = end_us + 1000 * settings.off_ms
        yield burst, at_us


def bursts(keys: str, settings: KeypadSettings) -> list[Burst]:
    """Return the bursts of a string that begins at 0."""
    return [burst for burst, _ in _string(keys, 0, settings) if burst is not None]


def add_key(out: Samples, first: int, burst: Burst, gains: Mapping[float, complex]) -> None:
    """Add what gains leave of a key to samples.

    Args:
        out: samples, from an absolute index on [V].
        first: that index.
        burst: the key; what of it lies outside of the samples is left out.
        gains: volts per volt of the keypad's EMF, by frequency [Hz].
    """
    begins, ends = sample_span(burst.start_us, burst.end_us)
    on, off = max(begins, first), min(ends, first + len(out))
    for tone in burst.tones if on < off else ():
        volt = tone.emf_rms_volt * gain_at(gains, tone.hz)
        out[on - first : off - first] += sine(tone.hz, volt, tone.start_us, on, off)


def clean_samples(keys: str, settings: KeypadSettings | None = None) -> Samples:
    """Return a string as 600 ohm would show it, with no line between [V]."""
    settings = settings or KeypadSettings()
    ends = [0, *(end_us for _, end_us in _string(keys, 0, settings))]
    out = np.zeros(sample_span(0, ends[-1])[1])
    for burst in bursts(keys, settings):
        add_key(out, 0, burst, {0.0: 0.5})
    return out
