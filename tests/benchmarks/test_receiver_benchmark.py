"""How fast the receiver is, beside a general-purpose decoder in C on the same samples."""

import ctypes
import time
from collections.abc import Callable

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.control.keypad import KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import Receiver, read
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt
from tests.oracles.peers import spandsp

SECONDS = 60
STRING = clean_samples("#*27" + "18*", KeypadSettings(level_dbm=-15.0))
SPARSE = np.concatenate([STRING, np.zeros(8000 * SECONDS - len(STRING))])
NOISY = SPARSE + dbm_to_volt(-70.0) * white(1, "benchmark", 0, len(SPARSE))
DENSE = np.tile(STRING, 8000 * SECONDS // len(STRING))


def in_slices(samples: Samples) -> int:
    """Return how many digits our receiver reads, fed in slices as a bench would."""
    receiver, count, at = Receiver(ReceiverLimits()), 0, 0
    while at < len(samples):
        end = min(len(samples), at + 4000)
        heard = receiver.take(samples[at:end], at)
        count += heard is not None
        at = end if heard is None else heard.index + 1
    return count


def in_one_go(samples: Samples) -> int:
    """Return how many digits it reads in a recording, as the peer is given it."""
    return len(read(samples, ReceiverLimits())[0])


def theirs(library: ctypes.CDLL, sixteen: np.ndarray) -> None:
    state = ctypes.c_void_p(library.dtmf_rx_init(None, None, None))
    library.dtmf_rx(state, sixteen.ctypes.data_as(ctypes.c_void_p), len(sixteen))
    library.dtmf_rx_free(state)


def best_s(run: Callable[[], object]) -> float:
    """Return the shortest of some runs, by this process's own clock."""
    taken = []
    for _ in range(15):
        start = time.process_time()
        run()
        taken.append(time.process_time() - start)
    return min(taken)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("name", "samples"), [("sparse", SPARSE), ("sparse over noise", NOISY), ("dense", DENSE)]
)
@pytest.mark.parametrize("ours", [in_one_go, in_slices])
def test_receiver_beside_spandsp(
    benchmark: BenchmarkFixture, ours: Callable[[Samples], int], name: str, samples: Samples
) -> None:
    """One string a minute, or keys without end: times real time, and the ratio in one run."""
    library = spandsp()
    sixteen = (samples * 8000).astype("<i2")

    count = benchmark(ours, samples)

    if benchmark.stats is not None:
        own_s, their_s = best_s(lambda: ours(samples)), best_s(lambda: theirs(library, sixteen))
        length_s = len(samples) / 8000
        print(
            f"\n{name}, {ours.__name__}: {length_s / own_s:.0f} x real time, "
            f"in C {length_s / their_s:.0f} x, ratio {their_s / own_s:.3f}"
        )
    assert count == len(samples) // len(STRING) * 7 if name == "dense" else count == 7
