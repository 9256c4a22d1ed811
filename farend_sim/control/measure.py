"""Second look: two tones fitted to a burst, and the reason to refuse it.

Least squares of two sines with refined frequencies over the steady middle of a burst (27 ms if it
is that long) gives frequency, level, twist and what is left over; the fit carried on over the
whole burst gives how long it was.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.frames import hum_bases, quadratures
from farend_sim.control.keypad import KEYS
from farend_sim.control.limits import ReceiverLimits
from line_model.signal import REFERENCE_VOLT, SAMPLE_HZ, Samples, volt_to_dbm

MIDDLE = 216
"""Samples fitted: 27 ms, what is steady in the shortest tone to be taken. Source: trials."""
_ROUNDS = 4
"""Refinements at most; from between two grid points it has settled by then. Source: trials."""
_RIDGE = 1e-13
"""Added to a diagonal of ones: an absent tone gets no weight, instead of a division by zero."""
_SETTLED = 2.0 * np.pi * 0.1 / SAMPLE_HZ
"""A step of 0.1 Hz is the last one; the next would be a thousandth of that."""
_NO_VOLT = 1e-9 * REFERENCE_VOLT
"""-180 dBm, so that silence has a level."""
_DB_PER_PART = 20.0 / math.log(10.0)
_OMEGA = 2.0 * np.pi / SAMPLE_HZ
"""Radians a sample for each hertz."""
_HALF = 0.5**0.5
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

    def tones(self, first: float, count: int) -> Samples:
        """Return so many samples of the fitted tones, from an offset from the middle on."""
        omega = np.array((self.low_hz, self.high_hz)) * _OMEGA
        weights = self.fit[:2] - 1j * self.fit[2:]
        coarse = weights * np.exp(
            1j * np.outer(first + _WIDE * np.arange(count // _WIDE + 1), omega)
        )
        fine = np.exp(1j * np.outer(omega, np.arange(_WIDE)))
        tones: Samples = coarse.real @ fine.real - coarse.imag @ fine.imag
        return tones.ravel()[:count]


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
    length = stack.shape[1]
    hum, hums = _hum(length)
    right, left = stack[:, length // 2 :], stack[:, length // 2 - 1 :: -1]
    folded = np.stack((right + left, right - left), axis=1) * _HALF
    bare = folded - np.matvec(hum, np.vecmat(folded, hum))
    omega, fit, rest = _fitted(bare, hum, *_started(stack, near_hz))
    power = (np.square(fit[:, :2]) + np.square(fit[:, 2:])) / 2.0 + _NO_VOLT**2
    noise = np.maximum(rest / (length - hums - 6), _NO_VOLT**2)
    margin = np.maximum(power.sum(axis=1) / noise, 1e-20)
    doubt = np.sqrt(noise / length * (1.0 / power).sum(axis=1))
    peak = np.abs(stack).max(axis=1)
    rows = zip(
        keys,
        (omega / _OMEGA).tolist(),
        np.sqrt(power).tolist(),
        margin.tolist(),
        doubt.tolist(),
        peak.tolist(),
        fit,
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


# A stretch is folded about its middle into what is even and what is odd there: cosines live in the
# one half and sines in the other, so each needs half the work. Only the two steps of frequency,
# whose slopes have a part in both, are solved for together.


@lru_cache(maxsize=64)
def _hum(length: int) -> tuple[NDArray[np.float64], int]:
    """Return bases of even and odd hum of folded stretches, as wide as the wider; and their sum."""
    bases = [basis[length // 2 :] / _HALF for basis in hum_bases(length)]
    wide = max(basis.shape[1] for basis in bases)
    padded = [np.pad(basis, ((0, 0), (0, wide - basis.shape[1]))) for basis in bases]
    return np.stack(padded), sum(basis.shape[1] for basis in bases)


@lru_cache(maxsize=512)
def _starter(low_hz: float, high_hz: float, length: int) -> NDArray[np.float64]:
    """Return what gives weights of cosine and sine, and their slopes, of each tone in a stretch.

    The tones' Taylor series over frequency, to the second power, are fitted with hum beside them.
    """
    offsets = np.arange(length) - (length - 1) / 2.0
    turns = [wave for hz in (low_hz, high_hz) for wave in quadratures(hz, length)]
    scaled = offsets / length
    series = [wave * scaled**power for power in (0, 1, 2) for wave in turns]
    columns = np.stack(series, axis=1)
    hum = np.concatenate(hum_bases(length), axis=1)
    columns -= hum @ (hum.T @ columns)
    return np.asarray(np.linalg.pinv(columns, rcond=1e-9)[:8])


def _started(
    stack: NDArray[np.float64], near_hz: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return frequencies, in radians a sample, and weights, for some two refinements to begin."""
    length = stack.shape[1]
    starters = np.stack([_starter(low, high, length) for low, high in near_hz.tolist()])
    level, slope = np.matvec(starters, stack).reshape(-1, 2, 2, 2).swapaxes(0, 1)
    # a cos + b sin, a little faster, grows by the offset times (b cos - a sin)
    step = slope[:, :, 0] * level[:, :, 1] - slope[:, :, 1] * level[:, :, 0]
    step /= (np.square(level).sum(axis=2) + 1e-300) * length
    omega = near_hz * _OMEGA + np.clip(step, -_STEP, _STEP)
    return omega, np.concatenate((level[:, :, 0], level[:, :, 1]), axis=1)


def _fitted(
    bare: NDArray[np.float64],
    hum: NDArray[np.float64],
    omega: NDArray[np.float64],
    fit: NDArray[np.float64],
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Refine the frequencies of each stretch; return them, the weights, and what is left over."""
    live, rest = np.arange(len(bare)), np.zeros(len(bare))
    for _ in range(_ROUNDS):
        solved, rest[live] = _solve(_sloped(omega[live], fit[live], bare.shape[2]), hum, bare[live])
        fit[live] = solved[:, :4]
        omega[live] += np.clip(solved[:, 4:], -_STEP, _STEP)
        live = live[np.abs(solved[:, 4:]).max(axis=1) >= _SETTLED]
        if not live.size:
            break
    if live.size:
        fit[live], rest[live] = _solve(_model(omega[live], bare.shape[2]), hum, bare[live])
    return omega, fit, rest


_FINE, _WIDE = 16, 32
"""Angles are taken coarse and fine, and multiplied: far fewer cosines for the same turns."""


def _turns(omega: NDArray[np.float64], first: float, count: int) -> NDArray[np.complex128]:
    """Return exp(i omega k) for so many k, from the first on, in a new last axis."""
    coarse = omega[..., None] * (first + _FINE * np.arange(-(-count // _FINE)))
    fine = omega[..., None] * np.arange(_FINE)
    turns = np.exp(1j * coarse)[..., :, None] * np.exp(1j * fine)[..., None, :]
    flat: NDArray[np.complex128] = turns.reshape(*omega.shape, -1)
    return flat[..., :count]


def _model(omega: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """Return cosines low and high of the even half, then sines of the odd half."""
    turns = _turns(omega, 0.5, count)
    return np.stack((turns.real, turns.imag), axis=1) / _HALF


def _sloped(
    omega: NDArray[np.float64], fit: NDArray[np.float64], count: int
) -> NDArray[np.float64]:
    """Return the model, and in both halves how the fit would move with each frequency."""
    out = np.empty((len(omega), 2, 4, count))
    out[:, :, :2] = _model(omega, count)
    # The slope of a cos + b sin: the sine is even when it is multiplied by the offset.
    weights = np.stack((-fit[:, :2], fit[:, 2:]), axis=1)[..., None]
    np.multiply(out[:, ::-1, :2], weights, out=out[:, :, 2:])
    out[:, :, 2:] *= np.arange(count) + 0.5
    return out


def _solve(
    rows: NDArray[np.float64], hum: NDArray[np.float64], bare: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the least-squares weights of the rows, hum free to be anything, and what is left."""
    shadow = rows @ hum
    halves = rows @ rows.swapaxes(2, 3) - shadow @ shadow.swapaxes(2, 3)
    seen = np.matvec(rows, bare)
    gram, seen = (
        _joined(halves),
        np.concatenate((seen[:, 0, :2], seen[:, 1, :2], seen[:, :, 2:].sum(axis=1)), axis=1),
    )
    scale = np.sqrt(np.einsum("...ii->...i", gram)) + 1e-150
    gram /= scale[:, :, None] * scale[:, None, :]
    np.einsum("...ii->...i", gram)[...] += _RIDGE
    weights = np.linalg.solve(gram, (seen / scale)[:, :, None])[:, :, 0] / scale
    own = np.stack((weights[:, :2], weights[:, 2:4]), axis=1)
    steps = np.broadcast_to(weights[:, None, 4:], (len(rows), 2, weights.shape[1] - 4))
    left = bare - np.vecmat(np.concatenate((own, steps), axis=2), rows)
    shade = np.vecmat(left, hum)
    rest = np.square(left).sum(axis=(1, 2)) - np.square(shade).sum(axis=(1, 2))
    return weights, np.maximum(rest, 0.0)


def _joined(halves: NDArray[np.float64]) -> NDArray[np.float64]:
    """Join the products of both halves: cosines and sines do not meet, slopes are in both."""
    slopes = halves.shape[2] - 2
    gram = np.zeros((len(halves), 4 + slopes, 4 + slopes))
    gram[:, :2, :2], gram[:, 2:4, 2:4] = halves[:, 0, :2, :2], halves[:, 1, :2, :2]
    if slopes:
        gram[:, :2, 4:], gram[:, 2:4, 4:] = halves[:, 0, :2, 2:], halves[:, 1, :2, 2:]
        gram[:, 4:, :4] = gram[:, :4, 4:].swapaxes(1, 2)
        gram[:, 4:, 4:] = halves[:, 0, 2:, 2:] + halves[:, 1, 2:, 2:]
    return gram


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
