"""What the receiver's tests share: a string with noise, and a receiver that is fed it."""

from collections.abc import Iterable
from itertools import cycle

import numpy as np

from farend_sim.control.growing import Digit
from farend_sim.control.keypad import KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import GUARD, Receiver
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt

LEAD = 800
"""Silence before the first key [samples]."""


def heard(
    samples: Samples,
    limits: ReceiverLimits | None = None,
    sizes: Iterable[int] = (10**9,),
    first: int = 0,
) -> tuple[list[Digit], Receiver]:
    """Feed samples in slices, each slice cut where a digit was decided, as the bench does."""
    receiver, digits, at = Receiver(limits or ReceiverLimits()), [], 0
    for size in cycle(sizes):
        end = min(len(samples), at + size)
        digit = receiver.take(samples[at:end], first + at)
        if digit is not None:
            digits.append(digit)
            end = digit.index + 1 - first
        at = end
        if at >= len(samples):
            break
    return digits, receiver


def sent(
    keys: str, settings: KeypadSettings, snr_db: float | None = None, seed: int = 0, phase: int = 0
) -> Samples:
    """Return a string between silences, with white noise under the tones' power if asked."""
    tones = clean_samples(keys, settings)
    samples = np.concatenate([np.zeros(LEAD + phase), tones, np.zeros(GUARD)])
    if snr_db is None:
        return samples
    low, high = settings.level_dbm, settings.level_dbm + settings.twist_db
    power = dbm_to_volt(low) ** 2 + dbm_to_volt(high) ** 2
    rms_volt = (power / 10 ** (snr_db / 10)) ** 0.5
    return np.asarray(samples + rms_volt * white(seed, keys, 0, len(samples)))


def digits_of(samples: Samples, limits: ReceiverLimits | None = None) -> str:
    """Return the digits heard, as a string."""
    return "".join(digit.digit for digit in heard(samples, limits=limits)[0])
