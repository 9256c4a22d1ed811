"""Our tones read by other programs, and other programs' tones read by our receiver.

Compared only where all agree what a key is: 40/40 ms and longer, within 1 %, 3 dB of twist and
10 dB over noise. Accept and reject limits are tested on our own, in tests/control.
"""

import ctypes
import shutil
import subprocess
import wave
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from farend_sim.control.keypad import KEYS, KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import GUARD, Receiver
from line_model.noise import white
from line_model.signal import REFERENCE_VOLT, Samples, dbm_to_volt

pytestmark = pytest.mark.outside

DIGITS = "159D*0#ABC2468"
MILLIWATT_RMS = 32768 / 2**0.5 / 10 ** (3.14 / 20)
"""0 dBm in 16-bit samples. Source: ITU-T G.711 (11/88), full scale is +3.14 dBm0."""
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


def keyed(settings: KeypadSettings, snr_db: float | None) -> Samples:
    """Return the digits between silences, in noise if asked [V into 600 ohm]."""
    silence = np.zeros(1600)
    samples = np.concatenate([silence, clean_samples(DIGITS, settings), silence])
    if snr_db is None:
        return samples
    high_dbm = settings.level_dbm + settings.twist_db
    power = dbm_to_volt(settings.level_dbm) ** 2 + dbm_to_volt(high_dbm) ** 2
    noise = white(11, "oracle", 0, len(samples))
    return np.asarray(samples + (power / 10 ** (snr_db / 10)) ** 0.5 * noise)


def sixteen_bit(samples: Samples) -> np.ndarray:
    return np.clip(samples / REFERENCE_VOLT * MILLIWATT_RMS, -32767, 32767).astype("<i2")


def volts(sixteen: np.ndarray) -> Samples:
    return sixteen.astype(float) / MILLIWATT_RMS * REFERENCE_VOLT


def ours(samples: Samples) -> str:
    """Return what our receiver reads."""
    receiver, digits, at = Receiver(ReceiverLimits()), "", 0
    samples = np.concatenate([samples, np.zeros(GUARD)])
    while (heard := receiver.take(samples[at:], at)) is not None:
        digits, at = digits + heard.digit, heard.index + 1
    return digits


@pytest.fixture(scope="module")
def spandsp() -> ctypes.CDLL:
    try:
        library = ctypes.CDLL("libspandsp.so.2")
    except OSError:
        pytest.skip("libspandsp is not here")
    for name in ("dtmf_rx_init", "dtmf_tx_init"):
        getattr(library, name).restype = ctypes.c_void_p
    return library


def tool(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not here")
    return found


def spandsp_reads(library: ctypes.CDLL, samples: Samples) -> str:
    sixteen = sixteen_bit(samples)
    state = ctypes.c_void_p(library.dtmf_rx_init(None, None, None))
    try:
        library.dtmf_rx(state, sixteen.ctypes.data_as(ctypes.c_void_p), len(sixteen))
        text = ctypes.create_string_buffer(129)
        library.dtmf_rx_get(state, text, 128)
    finally:
        library.dtmf_rx_free(state)
    return text.value.decode()


def spandsp_sends(library: ctypes.CDLL, digits: str) -> Samples:
    sixteen = np.zeros(8000 * 4, dtype="<i2")
    state = ctypes.c_void_p(library.dtmf_tx_init(None))
    try:
        library.dtmf_tx_put(state, digits.encode(), len(digits))
        library.dtmf_tx(state, sixteen.ctypes.data_as(ctypes.c_void_p), len(sixteen))
    finally:
        library.dtmf_tx_free(state)
    return volts(sixteen)


@pytest.mark.parametrize("name", [*FRIENDLY, *OFF])
def test_spandsp_reads_our_tones(spandsp: ctypes.CDLL, name: str) -> None:
    """A general-purpose decoder reads each string that our keypad sends, and so do we."""
    samples = keyed(*(FRIENDLY | OFF)[name])

    assert spandsp_reads(spandsp, samples) == DIGITS
    assert ours(samples) == DIGITS


def test_spandsp_sends_what_we_read(spandsp: ctypes.CDLL) -> None:
    """The decoder library's own encoder is read by our receiver, all sixteen keys."""
    assert ours(spandsp_sends(spandsp, "".join(KEYS))) == "".join(KEYS)


@pytest.mark.parametrize("name", FRIENDLY)
def test_multimon_reads_our_tones(name: str, tmp_path: Path) -> None:
    """A second, unrelated decoder reads them too; it has no patience with 1 % off."""
    multimon, _ = tool("multimon-ng"), tool("sox")
    path = tmp_path / "keys.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(sixteen_bit(keyed(*FRIENDLY[name])).tobytes())

    said = subprocess.run(
        [multimon, "-q", "-a", "DTMF", "-t", "wav", str(path)],
        capture_output=True, text=True, check=True, timeout=60,
    ).stdout  # fmt: skip

    assert "".join(line.split()[-1] for line in said.splitlines() if "DTMF" in line) == DIGITS


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
