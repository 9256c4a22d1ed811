"""Second look: two tones fitted to a burst, and the reason to refuse it.

Least squares of two sines with refined frequencies over the steady middle of a burst (27 ms if it
is that long) gives frequency, level, twist and what is left over; the fit carried on over the
whole burst gives how long it was.
"""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.frames import hum_basis
from farend_sim.control.keypad import KEYS
from farend_sim.control.limits import ReceiverLimits
from line_model.signal import REFERENCE_VOLT, SAMPLE_HZ, Samples, volt_to_dbm

Floats = NDArray[np.floating[Any]]

MIDDLE = 216
"""Samples fitted: 27 ms, what is steady in the shortest tone to be taken. Source: trials."""
_ROUNDS = 4
"""Refinements at most; from between two grid points it has settled by then. Source: trials."""
_RIDGE = 1e-13
"""Added to a diagonal of ones: an absent tone gets no weight, instead of a division by zero."""
_SETTLED = 2.0 * np.pi * 0.01 / SAMPLE_HZ
"""A step of 0.01 Hz is the last one; the next would be a millionth of that."""
_NO_VOLT = 1e-9 * REFERENCE_VOLT
"""-180 dBm, so that silence has a level."""
_DB_PER_PART = 20.0 / math.log(10.0)
_STEP = 2.0 * np.pi * 30.0 / SAMPLE_HZ
"""Largest step of a refinement, 30 Hz: the fit must not run off to another tone."""


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

    def tones(self, offsets: Floats) -> Samples:
        """Return the fitted tones at offsets from the middle [samples]."""
        omega = np.array((self.low_hz, self.high_hz)) * (2.0 * np.pi / SAMPLE_HZ)
        return self.fit @ _model(omega, offsets)


def measure(samples: Samples, key: str, near_hz: tuple[float, float]) -> Measured:
    """Fit two tones near the given frequencies to a steady stretch."""
    length = len(samples)
    hum = hum_basis(length)
    bare = samples - hum @ (hum.T @ samples)
    offsets = np.arange(length) - (length - 1) / 2.0
    omega = np.array(near_hz) * (2.0 * np.pi / SAMPLE_HZ)
    fit = _solve(_model(omega, offsets), hum, bare)[0]
    for _ in range(_ROUNDS):
        model = _model(omega, offsets)
        # The slope of a cos + b sin over frequency: how the fit would move with it.
        slopes = offsets * (fit[2:, None] * model[:2] - fit[:2, None] * model[2:])
        solved = _solve(np.concatenate((model, slopes)), hum, bare)[0]
        fit, omega = solved[:4], omega + np.clip(solved[4:], -_STEP, _STEP)
        if np.abs(solved[4:]).max() < _SETTLED:
            break
    fit, rest = _solve(_model(omega, offsets), hum, bare)
    power = (np.square(fit[:2]) + np.square(fit[2:])) / 2.0 + _NO_VOLT**2
    noise = max(rest / (length - hum.shape[1] - 6), _NO_VOLT**2)
    low_hz, high_hz = (omega * (SAMPLE_HZ / (2.0 * np.pi))).tolist()
    low_dbm, high_dbm = (volt_to_dbm(float(one) ** 0.5) for one in power)
    return Measured(
        key=key,
        low_hz=low_hz,
        high_hz=high_hz,
        low_dbm=low_dbm,
        high_dbm=high_dbm,
        noise_margin_db=10.0 * math.log10(max(float(power.sum()) / noise, 1e-20)),
        twist_doubt_db=3.0 * _DB_PER_PART * math.sqrt(noise / length * float((1.0 / power).sum())),
        peak_volt=float(np.abs(samples).max()),
        fit=fit,
    )


def _model(omega: Floats, offsets: Floats) -> NDArray[np.float64]:
    """Return cosine low, cosine high, sine low, sine high."""
    angle = omega[:, None] * offsets
    return np.concatenate((np.cos(angle), np.sin(angle)))


def _solve(
    rows: NDArray[np.float64], hum: NDArray[np.float64], bare: Samples
) -> tuple[NDArray[np.float64], float]:
    """Return the least-squares weights of the rows, hum free to be anything, and what is left."""
    shadow = rows @ hum
    gram = rows @ rows.T - shadow @ shadow.T
    scale = np.sqrt(gram.diagonal()) + 1e-150
    gram = gram / (scale * scale[:, None])
    gram.flat[:: len(rows) + 1] += _RIDGE
    seen = rows @ bare
    weights = np.linalg.solve(gram, seen / scale) / scale
    left = bare - weights @ rows
    shade = left @ hum
    return weights, max(0.0, float(left @ left - shade @ shade))


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
    hz, dbm = min(named, key=lambda tone: tone[1])
    if dbm < limits.floor_dbm:
        return f"{hz:g} Hz at {dbm:.1f} dBm is below the floor of {limits.floor_dbm:g} dBm"
    hz, dbm = max(named, key=lambda tone: tone[1])
    if dbm > limits.ceiling_dbm:
        return f"{hz:g} Hz at {dbm:.1f} dBm is above the ceiling of {limits.ceiling_dbm:g} dBm"
    return None


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
