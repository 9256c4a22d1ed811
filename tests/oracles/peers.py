"""Other programs beside ours: decoders and a sender of keypad tones, and talk for all of them."""

import ctypes
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.receiver import read
from farend_sim.control.wav import read_wav, write_wav
from line_model.signal import REFERENCE_VOLT, Samples

MILLIWATT_RMS = 32768 / 2**0.5 / 10 ** (3.14 / 20)
"""0 dBm in 16-bit samples. Source: ITU-T G.711 (from memory), full scale is +3.14 dBm0."""


def tool(name: str) -> str:
    """Where a program is, or a skip."""
    if (found := shutil.which(name)) is None:
        pytest.skip(f"{name} is not here")
    return found


def spandsp() -> ctypes.CDLL:
    """The decoder library, or a skip."""
    try:
        library = ctypes.CDLL("libspandsp.so.2")
    except OSError:
        pytest.skip("libspandsp is not here")
    for name in ("dtmf_rx_init", "dtmf_tx_init"):
        getattr(library, name).restype = ctypes.c_void_p
    return library


def volts(sixteen: np.ndarray) -> Samples:
    """16-bit samples as volts."""
    return np.asarray(sixteen.astype(float) / MILLIWATT_RMS * REFERENCE_VOLT)


def theirs(library: ctypes.CDLL, samples: Samples) -> str:
    """What the library reads of volts, a second at a time so that its buffer never fills."""
    scaled = np.clip(samples / REFERENCE_VOLT * MILLIWATT_RMS, -32767, 32767).astype("<i2")
    state = ctypes.c_void_p(library.dtmf_rx_init(None, None, None))
    text, digits = ctypes.create_string_buffer(129), ""
    for at in range(0, len(scaled), 8000):
        part = np.ascontiguousarray(scaled[at : at + 8000])
        library.dtmf_rx(state, part.ctypes.data_as(ctypes.c_void_p), len(part))
        library.dtmf_rx_get(state, text, 128)
        digits += text.value.decode()
    library.dtmf_rx_free(state)
    return digits


def ours(samples: Samples) -> str:
    """What the unit's receiver reads."""
    return "".join(one.digit for one in read(samples, ReceiverLimits())[0])


def multimon(folder: Path, samples: Samples) -> str:
    """What a second, unrelated decoder reads, or a skip."""
    tool("sox")  # feeds it
    path = folder / "talk.wav"
    write_wav(path, samples, 3.14)
    words = [tool("multimon-ng"), "-q", "-a", "DTMF", "-t", "wav", str(path)]
    said = subprocess.run(words, capture_output=True, text=True, check=True, timeout=600).stdout
    return "".join(line.split()[-1] for line in said.splitlines() if "DTMF" in line)


_TALK = (
    "good morning this is the test desk can you hear me on the pair behind the mill near bridge "
    "seven nine two four eleven sheath ring tip ground water pole cabinet road joint splice yes no "
    "hello operator please hold the line while we measure resistance again eighty five hundred "
    "ohms thank you what time will you come back tomorrow evening after the rain has stopped"
)


def speech(folder: Path, minutes: float, seed: int) -> Samples:
    """Return synthesised talk of several voices at -13 dBm, as loud as people talk on a line."""
    espeak = tool("espeak-ng")
    draw, parts, length = np.random.default_rng(seed), [], 0
    voices = ("en", "en-us", "en+f2", "en+m3", "de", "fr", "es+f4", "it+m7")
    while length < minutes * 60 * 8000:
        text = ". ".join(" ".join(draw.choice(_TALK.split(), 12)) for _ in range(40))
        path, voice = folder / "talk.wav", str(draw.choice(voices))
        pace, pitch = str(draw.integers(120, 220)), str(draw.integers(20, 95))
        words = [espeak, "-v", voice, "-s", pace, "-p", pitch, "-w", str(path), text]
        subprocess.run(words, check=True, timeout=120)
        part = read_wav(path)
        loud = part[np.abs(part) > 0.02 * np.abs(part).max()]
        parts.append(part * (REFERENCE_VOLT * 10 ** (-13 / 20) / np.sqrt(np.mean(loud**2))))
        length += len(part)
    return np.concatenate(parts)[: round(minutes * 60 * 8000)]
