"""Recordings: what is written, what is read, and what a unit makes of it."""

import json
import wave
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from farend_sim.bench.bench import Bench
from farend_sim.bench.recording import LEAD_US, record
from farend_sim.control.keypad import clean_samples
from farend_sim.control.wav import FULL_SCALE_DBM, full_scale_volt, read_wav, write_wav
from farend_sim.files import load_situation
from farend_sim.scheme_lab.trial.playback import listen, play
from line_model.signal import SAMPLE_US
from tui.commands import main


def farend_sim(*words: str) -> Result:
    return CliRunner().invoke(main, words, catch_exceptions=False)


def heard(path: Path, *more: str) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(
        farend_sim("wav", "decode", str(path), "--json", *more).stdout
    )
    return answer


def test_what_is_rendered_is_read_back(tmp_path: Path) -> None:
    """A clean string: its digits, its times to a millisecond, and the command that it is."""
    path = tmp_path / "keys.wav"
    assert farend_sim("wav", "render", "#*27,18*", str(path)).exit_code == 0

    answer = heard(path)

    assert answer["digits"] == "#*2718*"
    times = [one["t_s"] for one in answer["heard"]]
    expected = [0.5 + 0.16 * n + (n > 3) for n in range(7)]
    assert times == pytest.approx(expected, abs=1e-3)
    (command,) = answer["commands"]
    assert (command["does"], command["hold_s"]) == ("strap", 60.0)


def test_a_file_is_eight_kilohertz_sixteen_bit_mono(tmp_path: Path) -> None:
    """What every other program reads."""
    path = tmp_path / "keys.wav"
    farend_sim("wav", "render", "5", str(path))

    with wave.open(str(path)) as file:
        form = file.getframerate(), file.getsampwidth(), file.getnchannels()
    assert form == (8000, 2, 1)


def test_levels_survive_a_file(tmp_path: Path) -> None:
    """Volts written and read are the same to a step of 16 bits; what is clipped is counted."""
    path, volts = tmp_path / "v.wav", np.linspace(-4, 4, 1001)
    top = full_scale_volt(FULL_SCALE_DBM)

    clipped = write_wav(path, volts)

    assert clipped == np.count_nonzero(np.abs(volts) > top * (1 - 0.5 / 32768))
    assert read_wav(path) == pytest.approx(np.clip(volts, -top, top), abs=1.01 * top / 32768)


def test_a_state_is_heard_as_it_is(tmp_path: Path) -> None:
    """A strap leaves nothing; the tone state leaves the keys that fall into its gaps."""
    path = str(tmp_path / "keys.wav")

    digits = {}
    for state in ("idle", "strap", "tone"):
        farend_sim("wav", "render", "#*2718*", path, "--scenario", "good-pair", "--state", state)
        digits[state] = heard(Path(path))["digits"]

    assert (digits["idle"], digits["strap"]) == ("#*2718*", "")
    assert 0 < len(str(digits["tone"])) < 7


def test_a_recording_is_what_the_bench_hears() -> None:
    """The same keys on a bench: the same digits at the same samples, until a contact moves."""
    situation = load_situation("good-pair")
    bench, seen = Bench(situation), []
    bench.advance_to(LEAD_US)
    bench.press("#*27", None)
    take = bench.far_ear.receiver.take

    def watched(samples, first):  # type: ignore[no-untyped-def]
        found = take(samples, first)
        if found is not None:
            seen.append((found.digit, found.index))
        return found

    bench.far_ear.receiver.take = watched  # type: ignore[method-assign]
    bench.advance_to(LEAD_US + 1_000_000)

    digits, _ = listen(record(situation, "idle", "#*27"), situation.unit)

    assert [(one.digit, one.index) for one in digits] == seen


def test_a_held_command_ends_in_the_recording() -> None:
    """The unit's own timers run on while the recording does."""
    situation = load_situation("good-pair")
    samples = np.concatenate([record(situation, "idle", "#*2718*"), np.zeros(8000 * 62)])

    took = play(samples, situation.scheme, situation.unit).took

    assert [one.input.value for one in took] == ["knock", "strap", "hold-over"]
    lasted_us = took[2].at_us - took[1].at_us
    assert 60_000_000 < lasted_us < 61_000_000
    assert all(one.at_us <= len(samples) * SAMPLE_US for one in took)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "an empty file"),
        (b"format = 1\n", "no RIFF WAVE header"),
        (b"RIFF\x24\0\0\0WAVEfmt ", "cut short"),
        (b"RIFF\x24\0\0\0WAVEdata\x04\0\0\0\0\0\0\0", "data before any format"),
    ],
)
def test_what_is_no_recording_is_told_plainly(tmp_path: Path, content: bytes, told: str) -> None:
    """Exit 2, nothing on standard output, no traceback."""
    path = tmp_path / "bad.wav"
    path.write_bytes(content)

    result = farend_sim("wav", "decode", str(path))

    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr


@pytest.mark.parametrize("kept", range(40, 20_000, 3331))
def test_a_truncated_recording_is_never_half_read(tmp_path: Path, kept: int) -> None:
    """Wherever it was cut, the message says so and what was expected."""
    path = tmp_path / "keys.wav"
    farend_sim("wav", "render", "#*2718*", str(path))
    path.write_bytes(path.read_bytes()[:kept])

    result = farend_sim("wav", "decode", str(path))

    assert (result.exit_code, "cut short" in result.stderr) == (2, True)


@pytest.mark.parametrize(
    "words",
    [
        ["render", "12x", "out.wav"],
        ["render", "", "out.wav"],
        ["render", "1", "out.wav", "--state", "strap"],
        ["render", "1", "out.wav", "--scenario", "god-pair"],
        ["render", "1", "/dev/null/out.wav"],
        ["decode", "nowhere.wav"],
        ["decode", "out.wav", "--scheme", "ofset"],
        ["decode", "out.wav", "--full-scale", "nan"],
    ],
)
def test_bad_input_is_two(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Bad input: exit 2, a message, no traceback."""
    monkeypatch.chdir(tmp_path)

    result = farend_sim("wav", *words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr
    assert "Traceback" not in result.stderr


def test_one_channel_of_two_is_chosen(tmp_path: Path) -> None:
    """Keys left, other keys right: each channel alone; both together are no keys at all."""
    path = tmp_path / "stereo.wav"
    left, right = (np.pad(clean_samples(keys), 800) for keys in ("123", "789"))
    both = np.stack([left, right], axis=1) / full_scale_volt(FULL_SCALE_DBM) * 32767
    with wave.open(str(path), "wb") as file:
        file.setnchannels(2)
        file.setsampwidth(2)
        file.setframerate(8000)
        file.writeframes(both.astype("<i2").tobytes())

    digits = [heard(path, "--channel", side)["digits"] for side in ("left", "right", "both")]

    assert digits == ["123", "789", ""]


def test_a_channel_that_is_not_there_is_told(tmp_path: Path) -> None:
    """Of a mono recording there is no right side: exit 2."""
    path = str(tmp_path / "keys.wav")
    farend_sim("wav", "render", "18*", path)

    result = farend_sim("wav", "decode", path, "--channel", "right")

    assert (result.exit_code, result.stdout) == (2, "")
    assert "found 1 channel, expected two, of which the right one" in result.stderr


def test_a_recording_without_a_command_is_a_negative_verdict(tmp_path: Path) -> None:
    """Digits alone move nothing: exit 1."""
    path = str(tmp_path / "keys.wav")
    farend_sim("wav", "render", "18*", path)

    assert farend_sim("wav", "decode", path).exit_code == 1
