"""Two tones fitted to stretches of samples, by least squares over their frequencies too.

A stretch is folded about its middle into what is even and what is odd there: cosines live in one
half and sines in the other, so each needs half the work. Only the two steps of frequency, whose
slopes have a part in both, are solved for together. Hum is free to be anything.
Law: a stretch's fit is the same to the last bit, whatever is fitted beside it.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.frames import hum_bases, quadratures
from line_model.signal import SAMPLE_HZ

OMEGA = 2.0 * np.pi / SAMPLE_HZ
"""Radians a sample for each hertz."""
_ROUNDS = 4
"""Refinements at most; from between two grid points it has settled by then. Source: trials."""
_RIDGE = 1e-13
"""Added to a diagonal of ones: an absent tone gets no weight, instead of a division by zero."""
_SETTLED = 0.1 * OMEGA
"""A step of 0.1 Hz is the last one; the next would be a thousandth of that."""
_STEP = 30.0 * OMEGA
"""Largest step of a refinement, 30 Hz: the fit must not run off to another tone."""
_HALF = 0.5**0.5


class Fit(NamedTuple):
    """What was fitted, a stretch a row."""

    hz: NDArray[np.float64]
    """Of the low tone and the high one."""
    volts: NDArray[np.float64]
    """Of cosine low, cosine high, sine low, sine high about the middle."""
    noise: NDArray[np.float64]
    """Mean square of what is left over [V2]."""


def two_tones(stack: NDArray[np.float64], near_hz: NDArray[np.float64]) -> Fit:
    """Fit two tones to each of several stretches of one length, any number at once.

    Args:
        stack: a stretch a row, of an even number of samples.
        near_hz: two frequencies near each one's.
    """
    length = stack.shape[1]
    hum, hums = _hum(length)
    right, left = stack[:, length // 2 :], stack[:, length // 2 - 1 :: -1]
    folded = np.stack((right + left, right - left), axis=1) * _HALF
    bare = folded - np.matvec(hum, np.vecmat(folded, hum))
    omega, volts, rest = _fitted(bare, hum, *_started(stack, near_hz))
    return Fit(omega / OMEGA, volts, rest / (length - hums - 6))


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
    omega = near_hz * OMEGA + np.clip(step, -_STEP, _STEP)
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


_FINE = 16
"""Angles are taken coarse and fine, and multiplied: far fewer cosines for the same turns."""


def turns(omega: NDArray[np.float64], first: float, count: int) -> NDArray[np.complex128]:
    """Return exp(i omega k) for so many k, from the first on, in a new last axis."""
    coarse = omega[..., None] * (first + _FINE * np.arange(-(-count // _FINE)))
    fine = omega[..., None] * np.arange(_FINE)
    turns = np.exp(1j * coarse)[..., :, None] * np.exp(1j * fine)[..., None, :]
    flat: NDArray[np.complex128] = turns.reshape(*omega.shape, -1)
    return flat[..., :count]


def _model(omega: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """Return cosines low and high of the even half, then sines of the odd half."""
    turned = turns(omega, 0.5, count)
    return np.stack((turned.real, turned.imag), axis=1) / _HALF


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
