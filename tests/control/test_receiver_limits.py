"""What the receiver takes and refuses, at both sides of each limit, clean and in noise.

The figures are the North American column of ITU-T Q.24 (11/88) Table A-1, from memory.
"""

from dataclasses import replace

import numpy as np
import pytest

from farend_sim.control.keypad import KEYS, KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.played import hears
from line_model.noise import white
from line_model.signal import SILENCE_DBM, sine

from .listening import LEAD, digits_of, heard, sent

FLAT = KeypadSettings(level_dbm=-20.0, twist_db=0.0, off_ms=100)
NOISE = (None, 20.0, 15.0)


def reason(samples: np.ndarray) -> str:
    """Return the one refusal's reason; nothing may have been heard."""
    digits, receiver = heard(samples)
    assert digits == []
    (refused,) = receiver.refusals
    return refused.why


@pytest.mark.parametrize("key", KEYS)
def test_each_key_is_itself(key: str) -> None:
    """Each of the 16 keys is read as itself, with its frequencies and levels."""
    (digit,), receiver = heard(sent(key, FLAT))

    assert (digit.digit, receiver.refusals) == (key, [])
    assert (digit.low_hz, digit.high_hz) == pytest.approx(KEYS[key], abs=0.01)
    assert (digit.low_dbm, digit.high_dbm) == pytest.approx((-20, -20), abs=0.01)


@pytest.mark.parametrize("snr_db", NOISE)
@pytest.mark.parametrize("percent", [-1.5, 0.0, 1.5])
def test_forty_milliseconds_are_always_taken(snr_db: float | None, percent: float) -> None:
    """40 ms within 1.5 %, down to 15 dB: every key, wherever the frames fall."""
    settings = replace(FLAT, on_ms=40, frequency_error_percent=percent)

    for phase, key in enumerate(KEYS):
        for part in (0, 7):
            samples = sent(key, settings, snr_db, seed=phase + 100 * part, phase=phase + part)
            assert digits_of(samples) == key


@pytest.mark.parametrize("snr_db", NOISE)
def test_twenty_three_milliseconds_never(snr_db: float | None) -> None:
    """23 ms, down to 15 dB: no key, wherever the frames fall."""
    settings = replace(FLAT, on_ms=23)

    for phase, key in enumerate(KEYS):
        for part in (0, 7):
            samples = sent(key, settings, snr_db, seed=phase + 100 * part, phase=phase + part)
            assert digits_of(samples) == ""


@pytest.mark.parametrize("snr_db", NOISE)
@pytest.mark.parametrize("percent", [-3.5, 3.5])
def test_three_and_a_half_per_cent_never(snr_db: float | None, percent: float) -> None:
    """3.5 % off, down to 15 dB: no key, however long."""
    settings = replace(FLAT, frequency_error_percent=percent)

    for seed, key in enumerate(KEYS):
        assert digits_of(sent(key, settings, snr_db, seed)) == ""


@pytest.mark.parametrize(
    ("settings", "why"),
    [
        (replace(FLAT, level_dbm=-40.2), "697 Hz at -40.2 dBm is below the floor of -40 dBm"),
        (replace(FLAT, level_dbm=-39, twist_db=-1.5), "1209 Hz at -40.5 dBm is below the floor"),
        (
            replace(FLAT, level_dbm=6.3, twist_db=-1),
            "697 Hz at 6.3 dBm is above the ceiling",
        ),
        (replace(FLAT, twist_db=4.2), "1209 Hz is 4.2 dB over 697 Hz; 4 dB is the limit"),
        (replace(FLAT, twist_db=-8.2), "1209 Hz is 8.2 dB under 697 Hz; 8 dB is the limit"),
        (replace(FLAT, frequency_error_percent=-3), "676.1 Hz is -3.0 % from 697 Hz"),
        (replace(FLAT, on_ms=25), "a tone of 25 ms is too short; 31.5 ms is the limit"),
    ],
)
def test_a_refusal_says_why(settings: KeypadSettings, why: str) -> None:
    """Past a limit the key is refused with the figure and the limit."""
    assert reason(sent("1", settings)).startswith(why)


@pytest.mark.parametrize(
    "settings",
    [
        replace(FLAT, level_dbm=-39.9),
        replace(FLAT, level_dbm=0.0),
        replace(FLAT, level_dbm=5.9),
        replace(FLAT, twist_db=3.9),
        replace(FLAT, twist_db=-7.9),
        replace(FLAT, on_ms=40, off_ms=40),
        replace(FLAT, on_ms=50, off_ms=43),
        replace(FLAT, on_ms=3000),
    ],
)
def test_within_the_limits_all_is_taken(settings: KeypadSettings) -> None:
    """Just inside each limit, a whole string is read."""
    assert digits_of(sent("159D*0#", settings)) == "159D*0#"


@pytest.mark.parametrize("twist_db", [-8.0, 4.0])
def test_noise_does_not_narrow_the_twist(twist_db: float) -> None:
    """At 15 dB the measured twist is uncertain; the doubt is the key's."""
    settings = replace(FLAT, twist_db=twist_db, on_ms=40)

    for seed, key in enumerate(KEYS):
        assert digits_of(sent(key, settings, 15.0, seed)) == key


@pytest.mark.parametrize("snr_db", NOISE)
@pytest.mark.parametrize("break_ms", [1, 3, 5, 7, 10])
def test_a_break_of_ten_milliseconds_is_ignored(snr_db: float | None, break_ms: int) -> None:
    """One key with a hole of up to 10 ms in it is one key, wherever the hole is."""
    for seed, place in enumerate(range(200, 441, 30)):
        samples = sent("5", replace(FLAT, on_ms=80), None, seed)
        samples[LEAD + place : LEAD + place + 8 * break_ms] = 0.0
        if snr_db is not None:
            samples = samples + 0.1095 * 10 ** (-snr_db / 20) * white(seed, "x", 0, len(samples))

        assert digits_of(samples) == "5"


@pytest.mark.parametrize("snr_db", NOISE)
def test_a_pause_of_forty_milliseconds_parts(snr_db: float | None) -> None:
    """The same key twice, 40 ms apart, is two."""
    for seed in range(8):
        settings = replace(FLAT, on_ms=40, off_ms=40)
        assert digits_of(sent("55", settings, snr_db, seed, phase=seed)) == "55"


def test_keys_without_a_pause_are_neither() -> None:
    """Two keys that run together are refused; neither may act."""
    one, two = (clean_samples(key, replace(FLAT, on_ms=80, off_ms=80)) for key in "12")

    why = reason(np.concatenate([np.zeros(LEAD), one[:640], two]))

    assert why == "1 and 2 ran together without a pause"


def test_noise_hides_the_tones() -> None:
    """At 5 dB over noise the key is seen but not trusted."""
    assert "over noise and other sounds; 8 dB is the least" in reason(sent("5", FLAT, 5.0))


@pytest.mark.parametrize("hum_hz", [50.0, 60.0, 180.0, 300.0])
def test_hum_is_kept_out(hum_hz: float) -> None:
    """Hum 40 dB over the tones, up to the third kind of harmonic, does not make it deaf."""
    samples = sent("159D*0#", replace(FLAT, level_dbm=-30.0))

    hum = sine(hum_hz, 2.4, 0, 0, len(samples))

    assert digits_of(samples + hum) == "159D*0#"


def test_hum_can_overload() -> None:
    """Hum of volts at the input is over the receiver's overload, and that is the reason given."""
    samples = sent("5", FLAT)

    why = reason(samples + sine(60.0, 6.0, 0, 0, len(samples)))

    assert why.endswith("V peak at the receiver is over its overload of 5 V")


@pytest.mark.parametrize("hz", [350.0, 440.0, 580.0, 620.0, 1060.0])
def test_one_strong_tone_is_no_key(hz: float) -> None:
    """Dial tone's parts and the unit's own sounds, alone, are not even refused."""
    digits, receiver = heard(sine(hz, 0.5, 0, 0, 8000))

    assert (digits, receiver.refusals) == ([], [])


def test_noise_alone_is_no_key() -> None:
    """A minute of white noise at -20 dBm says nothing."""
    digits, receiver = heard(sent("," * 60, replace(FLAT, level_dbm=-23.0), 0.0, seed=3))

    assert (digits, receiver.refusals) == ([], [])


def test_a_sound_beside_the_key_is_noise_to_it() -> None:
    """The unit's own tone as loud as the keypad's makes it deaf, and 12 dB under does not."""
    samples = sent("159", FLAT)
    tone = sine(620.0, 1.0, 0, 0, len(samples))

    assert digits_of(samples + 0.0775 * tone) == ""
    assert digits_of(samples + 0.0194 * tone) == "159"


def test_silence_is_one_level() -> None:
    """A key of which nothing at all arrives is refused at the level that silence has everywhere."""
    why = f"697 Hz at {SILENCE_DBM:.1f} dBm is below the floor of -40 dBm"

    assert (False, why) == hears({697.0: 0j}, FLAT, ReceiverLimits(), "1")
