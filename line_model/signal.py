"""Samples of sounds on the pair: their clock, their levels, and a sine at an absolute index.

Law: a sample is a function of its absolute index alone, so slicing time never changes one.
"""

import cmath
import math
from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]

SAMPLE_HZ = 8000
"""Sampling rate of telephone audio. Source: ITU-T G.711 (11/88), from memory."""
SAMPLE_US = 125
"""One sample's time; exact, so that integer microseconds and indices agree."""
REFERENCE_OHM = 600.0
"""Resistance in which 0 dBm is a milliwatt. Source: telephone practice, ITU-T G.100.1."""
REFERENCE_VOLT = math.sqrt(1e-3 * REFERENCE_OHM)
"""The voltage called 0 dBm here, whatever the impedance: 0.7746 V."""
SILENCE_DBM = -200.0
"""What no voltage at all is printed as; far below anything physical."""
SILENCE_VOLT = REFERENCE_VOLT * 1e-10
"""The voltage of that level."""


def dbm_to_volt(dbm: float) -> float:
    """Return the rms voltage of a level [V]."""
    return REFERENCE_VOLT * math.pow(10.0, dbm / 20.0)


def volt_to_dbm(rms_volt: float) -> float:
    """Return the level of an rms voltage [dBm]; silence is SILENCE_DBM, not minus infinity."""
    if rms_volt <= SILENCE_VOLT:
        return SILENCE_DBM
    return 20.0 * math.log10(rms_volt / REFERENCE_VOLT)


def power_sum_dbm(levels_dbm: list[float]) -> float:
    """Return the level of sounds heard together [dBm]."""
    return volt_to_dbm(math.sqrt(sum(dbm_to_volt(level) ** 2 for level in levels_dbm)))


def sample_span(start_us: int, end_us: int) -> tuple[int, int]:
    """Return (first, last): the samples n with start_us <= 125 n < end_us are first..last-1."""
    return -(-start_us // SAMPLE_US), -(-end_us // SAMPLE_US)


def sine(
    hz: float, phasor_volt: complex, start_us: int, first: int, last: int, end_us: int | None = None
) -> Samples:
    """Return samples first..last-1 of a sine that begins at start_us with phase zero [V].

    Args:
        hz: its frequency.
        phasor_volt: rms voltage as a phasor: source times gain; its angle is the line's delay.
        start_us: where it begins; silent before.
        first: absolute index of the first sample.
        last: absolute index behind the last one.
        end_us: where it ends; silent from there on.
    """
    out = np.zeros(max(0, last - first))
    begins, off = sample_span(start_us, last * SAMPLE_US if end_us is None else end_us)
    on, off = max(first, begins), min(last, off)
    peak_volt, phase_rad = math.sqrt(2.0) * abs(phasor_volt), cmath.phase(phasor_volt)
    while on < off:
        # In rounds counted from the sine's own first sample: the angle at a round's beginning is
        # exact after hours of virtual time, and what turns from there on is the same every time.
        number, at = divmod(on - begins, _ROUND)
        until = min(off, on + _ROUND - at)
        angle = _angle(hz, SAMPLE_US * (begins + number * _ROUND) - start_us) + phase_rad
        cosine, sinus = _turns(hz)
        part = slice(at, at + until - on)
        rising, falling = peak_volt * math.cos(angle), peak_volt * math.sin(angle)
        out[on - first : until - first] = rising * sinus[part] + falling * cosine[part]
        on = until
    return out


_ROUND = 2048
"""Samples in a round; a choice of speed only."""


def _angle(hz: float, since_us: int) -> float:
    """How far a sine has turned; whole seconds are dropped with the whole cycles they hold."""
    whole_s, rest_us = divmod(since_us, 1_000_000)
    return 2.0 * math.pi * ((whole_s * hz) % 1.0 + hz * 1e-6 * rest_us)


@lru_cache(maxsize=128)
def _turns(hz: float) -> tuple[Samples, Samples]:
    """Return cosine and sine of one round."""
    angle = 2.0 * math.pi * hz / SAMPLE_HZ * np.arange(_ROUND)
    turns = np.cos(angle), np.sin(angle)
    for each in turns:
        each.flags.writeable = False  # it is shared by every caller
    return turns


def gain_at(gains: Mapping[float, complex], hz: float) -> complex:
    """Return the gain at the nearest frequency that was solved."""
    found = gains.get(hz)
    if found is not None:
        return found
    return gains[min(gains, key=lambda known_hz: abs(known_hz - hz))]
