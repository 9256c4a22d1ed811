"""Our tones read by other programs, and other programs' tones read by our receiver.

Compared only where all agree what a key is: 40/40 ms and longer, within 1 %, 3 dB of twist and
10 dB over noise. Accept and reject limits are tested on our own, in tests/control.
"""

import ctypes
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from farend_sim.control.keypad import KEYS, KeypadSettings
from line_model.signal import Samples
from tests.control.listening import sent
from tests.oracles.peers import multimon, ours, spandsp, theirs, tool, volts

pytestmark = pytest.mark.outside

DIGITS = "159D*0#ABC2468"
BASE = KeypadSettings(level_dbm=-12.0, twist_db=0.0, on_ms=70, off_ms=70)
FRIENDLY = {
    "plain": (BASE, None),
    "fast": (replace(BASE, on_ms=40, off_ms=40), None),
    "high over low": (replace(BASE, twist_db=3.0), None),
    "high under low": (replace(BASE, level_dbm=-10.0, twist_db=-3.0), None),
    "faint": (replace(BASE, level_dbm=-25.0), None),
    "15 dB over noise": (BASE, 15.0),
    "10 dB over noise": (BASE, 10.0),
}
OFF = {
    "one per cent up": (replace(BASE, frequency_error_percent=1.0), None),
    "one per cent down": (replace(BASE, frequency_error_percent=-1.0), None),
}


def keyed(name: str) -> Samples:
    settings, snr_db = (FRIENDLY | OFF)[name]
    return np.pad(sent(DIGITS, settings, snr_db, seed=11), 800)


@pytest.mark.parametrize("name", [*FRIENDLY, *OFF])
def test_spandsp_reads_our_tones(name: str) -> None:
    """A general-purpose decoder reads each string that our keypad sends, and so do we."""
    samples = keyed(name)

    assert theirs(spandsp(), samples) == DIGITS
    assert ours(samples) == DIGITS


def test_spandsp_sends_what_we_read() -> None:
    """The decoder library's own encoder is read by our receiver, all sixteen keys."""
    library, sixteen, keys = spandsp(), np.zeros(8000 * 4, dtype="<i2"), "".join(KEYS)
    state = ctypes.c_void_p(library.dtmf_tx_init(None))
    library.dtmf_tx_put(state, keys.encode(), len(keys))
    library.dtmf_tx(state, sixteen.ctypes.data_as(ctypes.c_void_p), len(sixteen))
    library.dtmf_tx_free(state)

    assert ours(volts(sixteen)) == keys


@pytest.mark.parametrize("name", FRIENDLY)
def test_multimon_reads_our_tones(name: str, tmp_path: Path) -> None:
    """A second, unrelated decoder reads them too; it has no patience with 1 % off."""
    assert multimon(tmp_path, keyed(name)) == DIGITS


@pytest.mark.parametrize("key", KEYS)
def test_sox_sends_what_we_read(key: str) -> None:
    """Two sines from an audio program make the key that they should."""
    low_hz, high_hz = KEYS[key]
    made = subprocess.run(
        [
            tool("sox"), "-n", "-r", "8000", "-b", "16", "-e", "signed", "-L", "-t", "raw", "-",
            "synth", "0.08", "sine", str(low_hz), "sine", str(high_hz),
            "remix", "1,2", "gain", "-15", "pad", "0.1", "0.1",
        ],
        capture_output=True, check=True, timeout=60,
    ).stdout  # fmt: skip

    assert ours(volts(np.frombuffer(made, dtype="<i2"))) == key
