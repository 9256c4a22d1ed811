"""Samples of sounds on the pair: their clock, their levels, and a sine at an absolute index.

Law: a sample is a function of its absolute index alone, so slicing time never changes one.
"""

import math
from collections.abc import Mapping

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


def dbm_to_volt(dbm: float) -> float:
    """Return the rms voltage of a level [V]."""
    return REFERENCE_VOLT * math.pow(10.0, dbm / 20.0)


def volt_to_dbm(rms_volt: float) -> float:
    """Return the level of an rms voltage [dBm]; silence is SILENCE_DBM, not minus infinity."""
    if rms_volt <= REFERENCE_VOLT * 1e-10:
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
    on, off = sample_span(start_us, last * SAMPLE_US if end_us is None else end_us)
    on, off = max(first, on), min(last, off)
    if off <= on:
        return out
    # Integer microseconds keep the phase exact; whole seconds are dropped with the whole cycles
    # they hold, so that the angle stays small after hours of virtual time.
    since_us = SAMPLE_US * np.arange(on, off, dtype=np.int64) - start_us
    if since_us[-1] < 1_000_000:
        cycles = hz * 1e-6 * since_us
    else:
        whole_s, rest_us = np.divmod(since_us, 1_000_000)
        cycles = (whole_s * hz) % 1.0 + hz * 1e-6 * rest_us
    peak_volt, phase_rad = math.sqrt(2.0) * abs(phasor_volt), np.angle(phasor_volt)
    out[on - first : off - first] = peak_volt * np.sin(2.0 * math.pi * cycles + phase_rad)
    return out


def gain_at(gains: Mapping[float, complex], hz: float) -> complex:
    """Return the gain at the nearest frequency that was solved."""
    found = gains.get(hz)
    if found is not None:
        return found
    return gains[min(gains, key=lambda known_hz: abs(known_hz - hz))]
