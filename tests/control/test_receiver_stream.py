"""The receiver as a stream: slices, gaps, rewinding, and the lab's way of asking."""

from dataclasses import replace

import numpy as np
import pytest

from farend_sim.control.keypad import HIGH_HZ, LOW_HZ, KeypadSettings
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.played import hears
from farend_sim.control.receiver import Receiver

from .listening import LEAD, heard, sent

FLAT = KeypadSettings(level_dbm=-20.0, twist_db=0.0)


def test_what_is_behind_a_digit_was_never_given() -> None:
    """After a digit the line may change: other samples there give what they would have given."""
    samples = sent("12", FLAT)
    receiver = Receiver(ReceiverLimits())
    digit = receiver.take(samples, 0)
    assert digit is not None
    behind = digit.index + 1

    changed = np.concatenate([samples[:behind], np.zeros(200), samples[LEAD : LEAD + 1200]])
    again = receiver.take(changed[behind:], behind)

    assert again == heard(changed)[0][1]


def test_the_digit_is_decided_soon_after_its_end() -> None:
    """Between 20 and 32 ms behind the tone's end, whatever the phase."""
    for phase in range(0, 40, 3):
        (digit,), _ = heard(sent("5", FLAT, phase=phase))
        assert 20 <= (digit.index - (LEAD + phase + 640)) / 8 <= 32
        assert digit.start_index == pytest.approx(LEAD + phase, abs=8)
        assert digit.duration_samples == pytest.approx(640, abs=16)


@pytest.mark.parametrize("gap", [0, 37, 400, 5000, 80_000_003])
def test_a_gap_is_silence(gap: int) -> None:
    """Skipping samples is the same as giving zeros."""
    first, second = sent("1", FLAT)[:-400], sent("2", FLAT)
    receiver = Receiver(ReceiverLimits())

    one = receiver.take(first, 0)
    assert one is not None
    two = receiver.take(second, len(first) + gap)

    assert two is not None
    assert (one.digit, two.digit) == ("1", "2")
    assert two.index - len(first) - gap == pytest.approx(LEAD + 640 + 200, abs=40)


def test_a_digit_decided_in_a_gap_has_its_index_there() -> None:
    """A burst that ends in samples nobody gave is decided there, and nothing else is consumed."""
    tone, receiver = sent("1", FLAT)[: LEAD + 640], Receiver(ReceiverLimits())

    assert receiver.take(tone, 0) is None
    assert receiver.pending
    digit = receiver.take(np.ones(100), 10_000)

    assert digit is not None
    assert digit.index < 10_000
    assert not receiver.pending


def test_time_does_not_run_backwards() -> None:
    """A sample given twice is a programmer's mistake."""
    receiver = Receiver(ReceiverLimits())
    receiver.take(np.zeros(100), 0)

    with pytest.raises(ValueError, match="sample 50 comes after 100"):
        receiver.take(np.zeros(10), 50)


def test_other_limits_other_verdicts() -> None:
    """The figures come from the limits: a floor of -30 dBm refuses what -40 takes."""
    samples = sent("1", replace(FLAT, level_dbm=-35.0))

    assert [digit.digit for digit in heard(samples)[0]] == ["1"]
    assert heard(samples, limits=ReceiverLimits(floor_dbm=-30.0))[0] == []


def test_the_pause_that_parts_is_a_limit_too() -> None:
    """25 ms part two keys where 40 ms are asked for, and are a hole in one where 70 ms are."""
    samples = sent("55", replace(FLAT, on_ms=60, off_ms=25))
    patient = ReceiverLimits(pause_ms=70.0)

    assert [len(heard(samples)[0]), len(heard(samples, limits=patient)[0])] == [2, 1]


@pytest.mark.parametrize("pause_ms", range(2, 40, 3))
def test_between_the_figures_it_may_do_either(pause_ms: int) -> None:
    """A key let go for less than 40 ms is one key or two, never none and never another."""
    for phase in range(0, 40, 5):
        (one, *more), receiver = heard(sent("55", replace(FLAT, off_ms=pause_ms), phase=phase))
        assert [one.digit, *(digit.digit for digit in more)] in (["5"], ["5", "5"])
        assert receiver.refusals == []


def gains(gain_db: float, slope_db: float = 0.0) -> dict[float, complex]:
    """Return a line's gains: the high group slope_db under the low one."""
    low, high = (10 ** (db / 20) * (0.6 - 0.8j) for db in (gain_db, gain_db - slope_db))
    return dict.fromkeys(LOW_HZ, low) | dict.fromkeys(HIGH_HZ, high)


@pytest.mark.parametrize(
    ("line", "keypad", "verdict"),
    [
        (gains(-6), KeypadSettings(), (True, None)),
        (gains(-39.9), KeypadSettings(), (True, None)),
        (gains(-6, 10), KeypadSettings(), (True, None)),
        (gains(-6), KeypadSettings(on_ms=40, off_ms=40, frequency_error_percent=1.5), (True, None)),
        (
            gains(-40.1),
            KeypadSettings(),
            (False, "697 Hz at -40.1 dBm is below the floor of -40 dBm"),
        ),
        (
            gains(-61.3),
            KeypadSettings(),
            (False, "697 Hz at -61.3 dBm is below the floor of -40 dBm"),
        ),
        (
            gains(-130),
            KeypadSettings(),
            (False, "697 Hz at -130.0 dBm is below the floor of -40 dBm"),
        ),
        (
            gains(-6, 12),
            KeypadSettings(),
            (False, "1209 Hz is 10.0 dB under 697 Hz; 8 dB is the limit"),
        ),
        (
            gains(-6, 17),
            KeypadSettings(),
            (False, "1209 Hz is 15.0 dB under 697 Hz; 8 dB is the limit"),
        ),
        (
            gains(-6),
            KeypadSettings(on_ms=15),
            (False, "a tone of 15 ms is too short; 31.5 ms is the limit"),
        ),
    ],
)
def test_a_state_hears_or_says_why_not(
    line: dict[float, complex], keypad: KeypadSettings, verdict: tuple[bool, str | None]
) -> None:
    """Keys played through gains: taken, or refused in the receiver's own words."""
    heard_it, why = hears(line, keypad, ReceiverLimits())

    assert verdict == (heard_it, why)


def test_no_line_at_all_still_has_a_level() -> None:
    """Gains of nought are a level too."""
    heard_it, why = hears(dict.fromkeys(LOW_HZ + HIGH_HZ, 0j), KeypadSettings(), ReceiverLimits())

    assert not heard_it
    assert why is not None
    assert "is below the floor" in why


def test_one_bad_frequency_names_its_key() -> None:
    """A notch at one column alone: the key there is the one that fails."""
    line = gains(-6) | {1477.0: 1e-4 + 0j}

    assert hears(line, KeypadSettings(), ReceiverLimits(), "12457") == (True, None)
    heard_it, why = hears(line, KeypadSettings(), ReceiverLimits())
    assert not heard_it
    assert why == "1477 Hz at -78.0 dBm is below the floor of -40 dBm"
