"""Recordings: WAV files to volts at 8 kHz, and volts to WAV files.

Law: a file that is cut short or is something else is told plainly, never half read.
Source of the layout: the RIFF WAVE description of 1991 and its extensible header, from memory.
"""

import struct
import wave
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from farend_sim.errors import BadFileError, Problem
from farend_sim.loading.messages import bad_file, why
from line_model.signal import REFERENCE_VOLT, SAMPLE_HZ, Samples

FULL_SCALE_DBM = 9.14
"""A sine at full scale. Source: ITU-T G.711 has +3.14 dBm0 there, from memory; 6 dB more, since an
unloaded pair shows twice a keypad's voltage."""
LEAST_HZ, MOST_HZ = 4000, 384_000
"""Rates that are read: below, the highest key has no room."""

_INTEGER, _FLOAT, _A_LAW, _MU_LAW, _EXTENSIBLE = 1, 3, 6, 7, 0xFFFE
Side = Literal["both", "left", "right"]
"""Which channel of a stereo recording is meant; both are the mean of all that there are."""
_UNKNOWN_LENGTH = 0x7FFF0000
"""A program that writes into a pipe puts the largest number it has where the length belongs."""


@dataclass(frozen=True, slots=True)
class _Form:
    """What the `fmt ` chunk says."""

    code: int
    channels: int
    rate_hz: int
    bits: int


def full_scale_volt(full_scale_dbm: float) -> float:
    """Return the peak of a sine at full scale [V]."""
    return float(2**0.5 * REFERENCE_VOLT * 10 ** (full_scale_dbm / 20))


def write_wav(path: Path, samples: Samples, full_scale_dbm: float = FULL_SCALE_DBM) -> int:
    """Write volts as 8 kHz, 16 bit, mono; return how many samples had to be clipped."""
    scaled = np.round(samples / full_scale_volt(full_scale_dbm) * 32768)
    kept = np.clip(scaled, -32768, 32767)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("wb") as raw, wave.open(raw, "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(SAMPLE_HZ)
            file.writeframes(kept.astype("<i2").tobytes())
    except OSError as error:
        why = (error.strerror or "it closed").lower()
        raise BadFileError(f"{path}: found {why}, expected to write there") from None
    return int(np.count_nonzero(kept != scaled))


def read_wav(path: Path, full_scale_dbm: float = FULL_SCALE_DBM, side: Side = "both") -> Samples:
    """Read a recording as volts at SAMPLE_HZ.

    Raises:
        BadFileError: it is no WAV file, is cut short, is of a kind that is not read, or has not
            the channel that is asked for.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise BadFileError(f"{path}: found {why(error)}, expected a WAV file") from None
    form, data = _chunks(raw, str(path))
    frames = _decoded(form, data, str(path)).reshape(-1, form.channels)
    if side != "both" and form.channels != 2:
        found = f"{form.channels} channel{'s' * (form.channels > 1)}"
        raise _bad(str(path), found, f"two, of which the {side} one is asked for")
    chosen = frames.mean(axis=1) if side == "both" else frames[:, int(side == "right")]
    mono = np.nan_to_num(chosen, posinf=1.0, neginf=-1.0)
    return _at_our_rate(mono, form.rate_hz) * full_scale_volt(full_scale_dbm)


def _chunks(raw: bytes, name: str) -> tuple[_Form, bytes]:
    """Walk the chunks up to the data, which must all be there."""
    if raw[:4] != b"RIFF" or raw[8:12] != b"WAVE":
        raise _bad(name, "no RIFF WAVE header" if raw else "an empty file", "a WAV file")
    at, form = 12, None
    while at + 8 <= len(raw):
        kind, length = raw[at : at + 4], int.from_bytes(raw[at + 4 : at + 8], "little")
        body = raw[at + 8 : at + 8 + length]
        if kind == b"fmt " and length >= 16 and len(body) == length:
            form = _form(body, name)
        if kind == b"data":
            if form is None:
                raise _bad(name, "data before any format", "a WAV file")
            if len(body) < length and length < _UNKNOWN_LENGTH:
                found = f"{len(body)} bytes of data, and then its end"
                raise _bad(name, found, f"the {length} that its header says: it is cut short")
            return form, body
        at += 8 + length + length % 2
    raise _bad(name, "its end before any data", "a WAV file: it is cut short")


def _form(body: bytes, name: str) -> _Form:
    code, channels, rate_hz, _, _, bits = struct.unpack("<HHIIHH", body[:16])
    if code == _EXTENSIBLE and len(body) >= 26:
        code = int.from_bytes(body[24:26], "little")
    if not LEAST_HZ <= rate_hz <= MOST_HZ:
        raise _bad(name, f"{rate_hz} samples a second", f"{LEAST_HZ} to {MOST_HZ}")
    if (code, bits) not in _KINDS or not 1 <= channels <= 64:
        found = f"encoding {code} with {bits} bits and {channels} channels"
        kinds = "integers of 8, 16, 24 or 32 bits, floats of 32 or 64, A-law or mu-law"
        raise _bad(name, found, kinds)
    return _Form(code, channels, rate_hz, bits)


_KINDS: dict[tuple[int, int], tuple[str, float, float]] = {
    (_INTEGER, 8): ("u1", 128.0, 128.0),
    (_INTEGER, 16): ("<i2", 0.0, 2.0**15),
    (_INTEGER, 24): ("<i4", 0.0, 2.0**31),
    (_INTEGER, 32): ("<i4", 0.0, 2.0**31),
    (_FLOAT, 32): ("<f4", 0.0, 1.0),
    (_FLOAT, 64): ("<f8", 0.0, 1.0),
    (_A_LAW, 8): ("u1", 0.0, 1.0),
    (_MU_LAW, 8): ("u1", 0.0, 1.0),
}
"""How each kind is stored: number type, what is zero, and what is full scale."""


def _decoded(form: _Form, data: bytes, name: str) -> NDArray[np.float64]:
    """All channels, one after another, -1 to 1."""
    size = form.bits // 8 * form.channels
    whole = data[: len(data) // size * size]
    if not whole:
        raise _bad(name, "no samples", "some")
    kind, zero, full = _KINDS[form.code, form.bits]
    if form.bits == 24:
        # the three bytes are the upper ones of a 32-bit number
        wide = np.zeros((len(whole) // 3, 4), dtype=np.uint8)
        wide[:, 1:] = np.frombuffer(whole, dtype=np.uint8).reshape(-1, 3)
        whole = wide.tobytes()
    if form.code in (_A_LAW, _MU_LAW):
        return _companded(form.code)[np.frombuffer(whole, dtype=np.uint8)]
    return (np.frombuffer(whole, dtype=kind).astype(np.float64) - zero) / full


@lru_cache(maxsize=2)
def _companded(law: int) -> NDArray[np.float64]:
    """Return what each byte of A-law or mu-law stands for, over 16-bit full scale.

    Source: ITU-T G.711 (11/88), tables 1 and 2, from memory; a test has an audio program's.
    """
    byte = np.arange(256)
    byte = byte ^ 0x55 if law == _A_LAW else 255 - byte
    segment, step = (byte >> 4) & 7, byte & 15
    if law == _A_LAW:
        size = np.where(
            segment == 0, 16 * step + 8, (16 * step + 264) << np.maximum(segment - 1, 0)
        )
        sign = np.where(byte & 0x80, 1, -1)
    else:
        size = ((8 * step + 132) << segment) - 132
        sign = np.where(byte & 0x80, -1, 1)
    return sign * size / 2.0**15


def _at_our_rate(samples: NDArray[np.float64], rate_hz: int) -> Samples:
    if rate_hz == SAMPLE_HZ:
        return samples
    from scipy.signal import resample_poly

    ratio = Fraction(SAMPLE_HZ, rate_hz)
    return np.asarray(resample_poly(samples, ratio.numerator, ratio.denominator), dtype=float)


def _bad(name: str, found: str, expected: str) -> BadFileError:
    return bad_file(name, [(None, Problem("", found, expected))])
