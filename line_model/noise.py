"""White noise as a function of (seed, source, sample index).

Law: no generator has a state that outlives a call; slicing time differently changes nothing.
The numbers come from a counter-based generator (Philox: Salmon et al., "Parallel random numbers:
as easy as 1, 2, 3", SC 2011), so any block is reached without those before it.
"""

import hashlib
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

BLOCK = 1024
"""Samples drawn at once, aligned to multiples of itself; a choice of speed only."""
_BLOCK_SHIFT = 128
"""The block's number goes in the counter's upper half; no block can use up the lower half."""


def white(seed: int, source: str, first: int, last: int) -> NDArray[np.float64]:
    """Return samples first..last-1 of Gaussian white noise, mean zero and variance one.

    Args:
        seed: the scenario's seed.
        source: what makes this noise; each name is a stream of its own.
        first: absolute index of the first sample; may be negative.
        last: absolute index behind the last one.
    """
    if last <= first:
        return np.zeros(0)
    key = _key(seed, source)
    low, high = first // BLOCK, (last - 1) // BLOCK
    drawn = np.concatenate([_block(key, number) for number in range(low, high + 1)])
    return drawn[first - low * BLOCK : last - low * BLOCK]


@lru_cache(maxsize=256)
def _key(seed: int, source: str) -> int:
    # Python's own hash() differs from run to run.
    return int.from_bytes(hashlib.blake2b(f"{seed}\0{source}".encode(), digest_size=16).digest())


@lru_cache(maxsize=512)
def _block(key: int, number: int) -> NDArray[np.float64]:
    counter = (number % 2**64) << _BLOCK_SHIFT
    drawn = np.random.Generator(np.random.Philox(key=key, counter=counter)).standard_normal(BLOCK)
    drawn.flags.writeable = False  # it is shared by every caller
    return drawn
