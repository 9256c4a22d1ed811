"""What the unit sounds, as samples at a listening point, and as a person would describe it.

Law: a sample is a function of its absolute index; what a sound means is nobody's business here.
"""

from collections.abc import Iterator, Mapping, Set

import numpy as np

from farend_sim.unit.effects import Sound, Voice
from line_model.signal import SAMPLE_US, Samples, gain_at, sine


def samples(sound: Sound, volt_by_hz: Mapping[float, complex], first: int, last: int) -> Samples:
    """Return samples first..last-1 of a sound where it is listened to [V].

    Args:
        sound: the reply or the tone.
        volt_by_hz: what stands there of it, rms phasors at its frequencies.
        first: absolute index of the first sample.
        last: absolute index behind the last one.
    """
    out = np.zeros(max(0, last - first))
    for hz, start_us, end_us in stretches(sound, first * SAMPLE_US, last * SAMPLE_US):
        out += sine(hz, gain_at(volt_by_hz, hz), start_us, first, last, end_us)
    return out


def stretches(sound: Sound, from_us: int, to_us: int) -> Iterator[tuple[float, int, int]]:
    """Yield frequency, start and end of each stretch that sounds between two moments."""
    period_us = sound.duration_us
    if period_us <= 0:
        return
    rounds = range(1)
    if sound.repeat:
        rounds = range(max(0, (from_us - sound.start_us) // period_us), _rounds_to(sound, to_us))
    for number in rounds:
        start_us = sound.start_us + number * period_us
        for segment in sound.segments:
            end_us = start_us + segment.duration_us
            if segment.hz > 0 and start_us < to_us and end_us > from_us:
                yield segment.hz, start_us, end_us
            start_us = end_us


def _rounds_to(sound: Sound, to_us: int) -> int:
    return max(0, -((sound.start_us - to_us) // sound.duration_us))


def pattern(voice: Voice, unheard_hz: Set[float] = frozenset()) -> str:
    """Return what a person hears: frequencies, lengths and pauses, never what it means.

    Args:
        voice: the reply or the tone.
        unheard_hz: frequencies too faint at the ear; they pass for pauses.
    """
    parts: list[tuple[float, int]] = []
    for segment in voice.segments:
        hz = 0.0 if segment.hz in unheard_hz else segment.hz
        if parts and parts[-1][0] == hz:
            parts[-1] = (hz, parts[-1][1] + segment.duration_us)
        else:
            parts.append((hz, segment.duration_us))
    if not voice.repeat:
        parts = parts[_leading_pause(parts) : len(parts) - _leading_pause(parts[::-1])]
    words = [_words(hz, duration_us) for hz, duration_us in parts]
    return ", ".join([*words, "again and again"] if voice.repeat and words else words)


def _leading_pause(parts: list[tuple[float, int]]) -> int:
    """Silence before and behind is not part of what is heard."""
    return 1 if parts and parts[0][0] <= 0 else 0


def _words(hz: float, duration_us: int) -> str:
    length = f"{duration_us / 1000:g} ms"
    return f"{hz:g} Hz {length}" if hz > 0 else f"pause {length}"
