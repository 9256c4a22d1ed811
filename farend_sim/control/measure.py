"""Second look: two tones fitted to a burst, and the reason to refuse it.

Least squares of two sines with refined frequencies over the steady middle of a burst (27 ms if it
is that long) gives frequency, level, twist and what is left over; the fit carried on over the
whole burst gives how long it was.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.fit import OMEGA, turns, two_tones
from farend_sim.control.keypad import KEYS
from farend_sim.control.limits import ReceiverLimits
from line_model.signal import SILENCE_VOLT, Samples, volt_to_dbm

MIDDLE = 216
"""Samples fitted: 27 ms, what is steady in the shortest tone to be taken. Source: trials."""
_DB_PER_PART = 20.0 / math.log(10.0)


@dataclass(frozen=True, slots=True)
class Measured:
    """What a burst turned out to be."""

    key: str
    low_hz: float
    high_hz: float
    low_dbm: float
    high_dbm: float
    noise_margin_db: float
    """Both tones over the rest of the band."""
    twist_doubt_db: float
    """Three standard deviations of the measured twist, from what was left over."""
    peak_volt: float
    fit: NDArray[np.float64]
    """Volts of cosine low, cosine high, sine low, sine high about the middle."""

    @property
    def twist_db(self) -> float:
        """High tone over the low one."""
        return self.high_dbm - self.low_dbm

    def tones(self, first: float, count: int) -> Samples:
        """Return so many samples of the fitted tones, from an offset from the middle on."""
        omega = np.array((self.low_hz, self.high_hz)) * OMEGA
        weights = self.fit[:2] - 1j * self.fit[2:]
        tones: Samples = (weights[:, None] * turns(omega, first, count)).real.sum(axis=0)
        return tones


def measure(samples: Samples, key: str, near_hz: tuple[float, float]) -> Measured:
    """Fit two tones near the given frequencies to a steady stretch."""
    return measure_each(samples[None], [key], np.array([near_hz]))[0]


def measure_each(
    stack: NDArray[np.float64], keys: Sequence[str], near_hz: NDArray[np.float64]
) -> list[Measured]:
    """Fit two tones to each of several stretches of one length: one law, any number at once.

    Args:
        stack: a stretch a row, of an even number of samples.
        keys: what each was taken for.
        near_hz: two frequencies near each one's.
    """
    hz, volts, left_over = two_tones(stack, near_hz)
    power = np.maximum((np.square(volts[:, :2]) + np.square(volts[:, 2:])) / 2.0, SILENCE_VOLT**2)
    noise = np.maximum(left_over, SILENCE_VOLT**2)
    margin = np.maximum(power.sum(axis=1) / noise, 1e-20)
    doubt = np.sqrt(noise / stack.shape[1] * (1.0 / power).sum(axis=1))
    peak = np.abs(stack).max(axis=1)
    rows = zip(
        keys,
        hz.tolist(),
        np.sqrt(power).tolist(),
        margin.tolist(),
        doubt.tolist(),
        peak.tolist(),
        volts,
        strict=True,
    )
    return [
        Measured(
            key=key,
            low_hz=low_hz,
            high_hz=high_hz,
            low_dbm=volt_to_dbm(low),
            high_dbm=volt_to_dbm(high),
            noise_margin_db=10.0 * math.log10(ratio),
            twist_doubt_db=3.0 * _DB_PER_PART * part,
            peak_volt=peak_volt,
            fit=own,
        )
        for key, (low_hz, high_hz), (low, high), ratio, part, peak_volt, own in rows
    ]


def why_refused(found: Measured, limits: ReceiverLimits) -> str | None:
    """Return why this receiver refuses these tones, or None if it takes them."""
    return (
        _why_level(found, limits)
        or _why_noise(found, limits)
        or _why_frequency(found, limits)
        or _why_twist(found, limits)
    )


def _why_level(found: Measured, limits: ReceiverLimits) -> str | None:
    named = [*zip(KEYS[found.key], (found.low_dbm, found.high_dbm), strict=True)]
    if found.peak_volt > limits.overload_volt:
        return (
            f"{found.peak_volt:.1f} V peak at the receiver is over its overload of "
            f"{limits.overload_volt:g} V"
        )
    hz, dbm = min(named, key=_to_a_millionth)
    if dbm < limits.floor_dbm:
        return f"{hz:g} Hz at {dbm:.1f} dBm is below the floor of {limits.floor_dbm:g} dBm"
    hz, dbm = max(named, key=_to_a_millionth)
    if dbm > limits.ceiling_dbm:
        return f"{hz:g} Hz at {dbm:.1f} dBm is above the ceiling of {limits.ceiling_dbm:g} dBm"
    return None


def _to_a_millionth(tone: tuple[float, float]) -> float:
    """Levels that differ by rounding alone are alike: then the low tone is named."""
    return round(tone[1], 6)


def _why_noise(found: Measured, limits: ReceiverLimits) -> str | None:
    if found.noise_margin_db < limits.noise_margin_db:
        return (
            f"the tones are {found.noise_margin_db:.1f} dB over noise and other sounds; "
            f"{limits.noise_margin_db:g} dB is the least"
        )
    return None


def _why_frequency(found: Measured, limits: ReceiverLimits) -> str | None:
    for nominal_hz, hz in zip(KEYS[found.key], (found.low_hz, found.high_hz), strict=True):
        percent = 100.0 * (hz / nominal_hz - 1.0)
        if abs(percent) > limits.frequency_edge_percent:
            return (
                f"{hz:.1f} Hz is {percent:+.1f} % from {nominal_hz:g} Hz; "
                f"{limits.frequency_edge_percent:g} % is the limit"
            )
    return None


def _why_twist(found: Measured, limits: ReceiverLimits) -> str | None:
    """Noise spoils the measured twist; within its doubt the key is taken."""
    low_hz, high_hz = KEYS[found.key]
    if found.twist_db - found.twist_doubt_db > limits.reverse_twist_db:
        return (
            f"{high_hz:g} Hz is {found.twist_db:.1f} dB over {low_hz:g} Hz; "
            f"{limits.reverse_twist_db:g} dB is the limit"
        )
    if -found.twist_db - found.twist_doubt_db > limits.normal_twist_db:
        return (
            f"{high_hz:g} Hz is {-found.twist_db:.1f} dB under {low_hz:g} Hz; "
            f"{limits.normal_twist_db:g} dB is the limit"
        )
    return None
