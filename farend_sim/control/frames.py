"""First look: which frames could be part of a key's tones. It is lenient; measure.py judges.

A frame is 15 ms, a new one begins every 2.5 ms at an absolute multiple of the hop, so the same
samples give the same frames however they arrive. Each is projected on a grid of frequencies round
the eight nominal ones, after all that is slower than HUM_HZ is taken out.
"""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.keypad import HIGH_HZ, KEYS, LOW_HZ
from line_model.signal import SAMPLE_HZ, Samples

HOP = 20
"""Samples from frame to frame: 2.5 ms. Source: this project's trials."""
FRAME = 120
"""Samples in a frame: 15 ms, short enough to see a 23 ms tone end. Source: as above."""
HUM_HZ = 300.0
"""What lies at or below is taken out: power hum and its harmonics, 60 dB. Source: telephone
practice, the voice band begins here."""
_HUM_STEP_HZ = 5.0
_HUM_KEPT = 1e-3
"""Singular values under this part of the largest are left in, so that 697 Hz loses only 0.3 dB.
Source: as above, and so for the grid."""

_SPREAD = (0.975, 1.0, 1.025)
"""Grid points a nominal frequency: so that one 3.5 % off is still seen, and refused with
reason. Source: this project's trials."""
LOW_GRID_HZ = tuple(hz * part for hz in LOW_HZ for part in _SPREAD)
HIGH_GRID_HZ = tuple(hz * part for hz in HIGH_HZ for part in _SPREAD)

NOTHING, UNSEEN = -1, -2
"""Codes of a frame that is part of no key, and of one that nobody has looked at."""
_TWO_TONES = 0.6
"""Least part of a frame's energy in its two strongest grid points. White noise alone has a tenth,
a frame half in a tone a half. Source: this project's trials."""
_LENIENT_TWIST = 10.0 ** (16.0 / 10.0)
"""Power ratio from which it is one tone and leakage, not two. Source: as above."""


@lru_cache(maxsize=64)
def hum_bases(length: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return orthonormal bases of what is slower than HUM_HZ in so many samples, even and odd."""
    each = [quadratures(float(hz), length) for hz in np.arange(0.0, HUM_HZ + 1.0, _HUM_STEP_HZ)]
    parts = [
        np.linalg.svd(np.stack(columns, axis=1), full_matrices=False)[:2]
        for columns in zip(*each, strict=True)
    ]
    kept = _HUM_KEPT * max(singular[0] for _, singular in parts)
    even, odd = (left[:, singular > kept] for left, singular in parts)
    return even, odd


def quadratures(hz: float, length: int) -> tuple[Samples, Samples]:
    """Return cosine and sine about the middle of so many samples."""
    angle = 2.0 * math.pi * hz / SAMPLE_HZ * (np.arange(length) - (length - 1) / 2.0)
    return np.cos(angle), np.sin(angle)


@lru_cache(maxsize=1)
def _projector() -> tuple[NDArray[np.float64], int]:
    """Return what a frame is multiplied by, hum and then both halves of the grid; hum's width."""
    hum = np.concatenate(hum_bases(FRAME), axis=1)
    pairs = []
    for hz in (*LOW_GRID_HZ, *HIGH_GRID_HZ):
        pair = np.stack(quadratures(hz, FRAME), axis=1)
        pairs.append(np.linalg.qr(pair - hum @ (hum.T @ pair))[0])
    halves = [np.stack([pair[:, half] for pair in pairs], axis=1) for half in (0, 1)]
    return np.concatenate((hum, *halves), axis=1), hum.shape[1]


def glance(samples: Samples, first: int, step: int, gate: float) -> NDArray[np.intp]:
    """Return which frames, taken so many samples apart, may be part of a key.

    In single precision and a little more lenient than `codes_of`: what it leaves out is nothing.
    """
    count = max(0, (len(samples) - first - FRAME) // step + 1)
    matrix, hum = _single()
    single = samples.astype(np.float32)
    size = single.strides[0]
    every = np.lib.stride_tricks.as_strided(
        single[first:], (count, FRAME), (step * size, size), writeable=False
    )
    found = [
        _seems(np.ascontiguousarray(every[at : at + _AT_ONCE]), matrix, hum, gate) + at
        for at in range(0, count, _AT_ONCE)
    ]
    return np.concatenate(found) if found else np.empty(0, dtype=np.intp)


def _seems(
    frames: NDArray[np.float32], matrix: NDArray[np.float32], hum: int, gate: float
) -> NDArray[np.intp]:
    square = np.square(frames @ matrix)
    raw = np.vecdot(frames, frames)
    total = raw - square[:, :hum] @ np.ones(hum, dtype=np.float32)
    split = len(LOW_GRID_HZ)
    power = square[:, hum : hum + 2 * split]
    power += square[:, hum + 2 * split :]
    low, high = power.reshape(-1, 2, split).argmax(axis=2).T
    row = np.arange(len(frames))
    low_high = power[row, low] + power[row, split + high]
    slack = _SINGLE * raw
    return np.flatnonzero((low_high + slack > _TWO_TONES * total) & (total + slack > gate))


@lru_cache(maxsize=1)
def _single() -> tuple[NDArray[np.float32], int]:
    matrix, hum = _projector()
    return matrix.astype(np.float32), hum


_SINGLE = 1e-4
"""Part of a frame's energy that single precision may be wrong by: a hundred times its rounding."""
_AT_ONCE = 1024
"""Frames multiplied in one go, a choice of memory only."""


def codes_of(samples: Samples, firsts: NDArray[np.intp], gate: float) -> NDArray[np.intp]:
    """Return for each frame its two grid points as one code, or NOTHING.

    Args:
        samples: they hold all the frames.
        firsts: where in the samples each frame begins.
        gate: as above; hum does not count.
    """
    parts = [firsts[at : at + _AT_ONCE] for at in range(0, len(firsts), _AT_ONCE)]
    step = samples.strides[0]
    shape = len(samples) - FRAME + 1, FRAME
    every = np.lib.stride_tricks.as_strided(samples, shape, (step, step), writeable=False)
    return np.concatenate([_codes(every[part], gate) for part in parts])


def _codes(frames: NDArray[np.float64], gate: float) -> NDArray[np.intp]:
    matrix, hum = _projector()
    square = np.square(frames @ matrix)
    total = np.vecdot(frames, frames) - square[:, :hum].sum(axis=1)
    split = len(LOW_GRID_HZ)
    power = square[:, hum : hum + 2 * split] + square[:, hum + 2 * split :]
    low, high = power.reshape(-1, 2, split).argmax(axis=2).T
    row = np.arange(len(frames))
    low_power, high_power = power[row, low], power[row, split + high]
    good = (
        (low_power + high_power > _TWO_TONES * total)
        & (low_power < _LENIENT_TWIST * high_power)
        & (high_power < _LENIENT_TWIST * low_power)
        & (total > gate)
    )
    return np.where(good, low * split + high, NOTHING)


_KEY_BY_TONES = {tones: key for key, tones in KEYS.items()}
NUMBERED = tuple(KEYS)
"""The keys by their numbers."""


@lru_cache(maxsize=1)
def number_of_code() -> NDArray[np.intp]:
    """Return the number of the key that each code lies nearest to; the last two are of none."""
    spread = len(_SPREAD)
    keys = (
        _KEY_BY_TONES[LOW_HZ[low // spread], HIGH_HZ[high // spread]]
        for low in range(len(LOW_GRID_HZ))
        for high in range(len(HIGH_GRID_HZ))
    )
    return np.array([*map(NUMBERED.index, keys), NOTHING, NOTHING])


def grid_hz(code: int) -> tuple[float, float]:
    """Return the two grid frequencies of a code."""
    low, high = divmod(code, len(HIGH_GRID_HZ))
    return LOW_GRID_HZ[low], HIGH_GRID_HZ[high]
