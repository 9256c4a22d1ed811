"""Recordings in the kinds that an audio program writes, and ours read by other decoders."""

import subprocess
from pathlib import Path

import numpy as np
import pytest

from farend_sim.bench.recording import record
from farend_sim.control.keypad import clean_samples
from farend_sim.control.wav import FULL_SCALE_DBM, full_scale_volt, read_wav, write_wav
from farend_sim.files import load_situation
from farend_sim.scheme_lab.trial.playback import listen
from farend_sim.unit_file import UnitFile
from tests.oracles.peers import multimon, tool

pytestmark = pytest.mark.outside

KEYS = "#*2718*#*2785120"
KINDS = {
    "8 bit": "-b 8 -e unsigned-integer",
    "16 bit": "-b 16 -e signed-integer",
    "24 bit": "-b 24 -e signed-integer",
    "32 bit": "-b 32 -e signed-integer",
    "float": "-b 32 -e floating-point",
    "double": "-b 64 -e floating-point",
    "A-law": "-e a-law",
    "mu-law": "-e mu-law",
}


@pytest.fixture
def unit() -> UnitFile:
    return load_situation("good-pair").unit


def converted(path: Path, *words: str) -> Path:
    """Let the audio program write the same sound in another kind of file."""
    other = path.with_name("other.wav")
    subprocess.run([tool("sox"), "-D", path, *words, other], check=True, timeout=60)
    return other


@pytest.mark.parametrize("rate_hz", [8000, 11025, 16000, 22050, 44100, 48000, 96000])
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("channels", [1, 2])
def test_any_usual_recording_is_read(
    unit: UnitFile, tmp_path: Path, rate_hz: int, kind: str, channels: int
) -> None:
    """The audio program (sox) resamples and packs; the digits stay, the levels within 0.15 dB."""
    path = tmp_path / "keys.wav"
    write_wav(path, np.pad(clean_samples(KEYS), 800))
    words = f"-r {rate_hz} -c {channels} {KINDS[kind]}".split()

    heard, _ = listen(read_wav(converted(path, *words)), unit)

    assert "".join(one.digit for one in heard) == KEYS
    assert [one.low_dbm for one in heard] == pytest.approx([-6.0] * len(KEYS), abs=0.15)
    assert [one.high_dbm for one in heard] == pytest.approx([-4.0] * len(KEYS), abs=0.15)


@pytest.mark.parametrize(("law", "code"), [("a-law", 6), ("mu-law", 7)])
def test_every_code_word_is_what_another_program_says(tmp_path: Path, law: str, code: int) -> None:
    """All 256 bytes of each law, turned into 16 bits by the audio program (sox): the same."""
    raw, path = tmp_path / "all.raw", tmp_path / "all.wav"
    raw.write_bytes(bytes(range(256)))
    packed = f"-t raw -r 8000 -c 1 -e {law} -b 8"
    subprocess.run([tool("sox"), *packed.split(), raw, path], check=True, timeout=60)
    sixteen = subprocess.run(
        [tool("sox"), "-D", path, "-t", "raw", "-e", "signed", "-b", "16", "-"],
        check=True, capture_output=True, timeout=60,
    ).stdout  # fmt: skip

    assert path.read_bytes()[20] == code
    volts = read_wav(path) / full_scale_volt(FULL_SCALE_DBM) * 2**15
    assert np.round(volts).tolist() == np.frombuffer(sixteen, dtype="<i2").tolist()


def test_a_recording_from_a_pipe_is_read(unit: UnitFile, tmp_path: Path) -> None:
    """A program that writes into a pipe cannot know the length; the file ends where it ends."""
    path, piped = tmp_path / "keys.wav", tmp_path / "piped.wav"
    write_wav(path, np.pad(clean_samples(KEYS), 800))
    piped.write_bytes(
        subprocess.run(
            f"{tool('sox')} -t raw -r 8000 -e signed -b 16 -c 1 - -t wav - < {path}",
            shell=True, check=True, capture_output=True, timeout=60,
        ).stdout
    )  # fmt: skip

    heard, _ = listen(read_wav(piped), unit)

    assert "".join(one.digit for one in heard) == KEYS


@pytest.mark.parametrize("state", ["idle", "tip-ground", "open"])
def test_another_decoder_reads_what_the_unit_hears(state: str, tmp_path: Path) -> None:
    """Another decoder (multimon-ng) reads our file of a good pair, in states that hear."""
    assert multimon(tmp_path, record(load_situation("good-pair"), state, KEYS)) == KEYS
