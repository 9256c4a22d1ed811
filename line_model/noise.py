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
_FEW = 4
"""Blocks up to which they are kept for the next call; a choice of speed only."""
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
    if high - low < _FEW:
        drawn = np.concatenate([_block(key, number) for number in range(low, high + 1)])
    else:
        drawn = _blocks(key, low, high)
    return drawn[first - low * BLOCK : last - low * BLOCK]


@lru_cache(maxsize=256)
def _key(seed: int, source: str) -> int:
    # Python's own hash() differs from run to run.
    return int.from_bytes(hashlib.blake2b(f"{seed}\0{source}".encode(), digest_size=16).digest())


@lru_cache(maxsize=512)
def _block(key: int, number: int) -> NDArray[np.float64]:
    drawn = _blocks(key, number, number)
    drawn.flags.writeable = False  # it is shared by every caller
    return drawn


def _blocks(key: int, low: int, high: int) -> NDArray[np.float64]:
    """Draw blocks low..high; one generator, put at the beginning of each in turn."""
    out = np.empty((high - low + 1, BLOCK))
    philox = np.random.Philox(key=key, counter=(low % 2**64) << _BLOCK_SHIFT)
    draw = np.random.Generator(philox)
    draw.standard_normal(out=out[0])
    if high > low:
        state = philox.state
        # what was drawn and not used up belongs to the block before
        state["buffer_pos"], state["has_uint32"] = 4, 0
        for number in range(low + 1, high + 1):
            state["state"]["counter"][:] = 0, 0, number % 2**64, 0
            philox.state = state
            draw.standard_normal(out=out[number - low])
    return out.ravel()
