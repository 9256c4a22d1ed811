"""The keypad: which tones, how loud, when."""

import numpy as np
import pytest

from farend_sim.control.keypad import HIGH_HZ, KEYS, LOW_HZ, Keypad, KeypadSettings, clean_samples
from line_model.signal import dbm_to_volt


def test_sixteen_keys_every_pair_once() -> None:
    """Each row crosses each column at one key; 5 is 770 and 1336 Hz: ITU-T Q.23, from memory."""
    assert {(low, high) for low in LOW_HZ for high in HIGH_HZ} == set(KEYS.values())
    assert len(KEYS) == 16
    assert KEYS["5"] == (770.0, 1336.0)


def test_levels_are_into_600_ohm() -> None:
    """The EMF is twice what 600 ohm shows, the high tone lies the twist above."""
    keypad = Keypad()
    keypad.press("1", 1000, KeypadSettings(level_dbm=-10.0, twist_db=3.0))

    (burst,) = keypad.to_come(1000)
    low, high = burst.tones

    assert (697.0, 2 * dbm_to_volt(-10.0), 1000) == low
    assert (1209.0, 2 * dbm_to_volt(-7.0), 1000) == high


def test_a_frequency_error_moves_both_tones() -> None:
    """One per cent is one per cent of each."""
    keypad = Keypad()
    keypad.press("1", 0, KeypadSettings(frequency_error_percent=1.0))

    (burst,) = keypad.to_come(0)
    assert [tone.hz for tone in burst.tones] == pytest.approx([703.97, 1221.09])


def test_edges_come_in_order() -> None:
    """Asked and woken at its deadlines, it goes on, off, on, off, and then lets go of the pair."""
    keypad = Keypad()
    keypad.press("1,2", 500, KeypadSettings(on_ms=50, off_ms=70))
    story = [(500, keypad.burst(500) is not None, keypad.sending)]

    while (at_us := keypad.deadline_us) is not None:
        keypad.wake(at_us)
        story.append((at_us, keypad.burst(at_us) is not None, keypad.sending))

    assert story == [
        (500, True, True),
        (50_500, False, True),
        (1_120_500, True, True),
        (1_170_500, False, True),
        (1_240_500, False, False),
    ]


def test_keys_pressed_while_sending_wait_their_turn() -> None:
    """A key pressed early follows the waiting ones after a full pause."""
    keypad = Keypad()
    keypad.press("1", 0, KeypadSettings(on_ms=50, off_ms=50))
    keypad.press("2", 20_000, KeypadSettings(on_ms=50, off_ms=50))

    assert keypad.ends_us == 200_000
    assert keypad.burst(99_999) is None
    later = keypad.burst(100_000)
    assert later is not None
    assert (later.key, later.start_us) == ("2", 100_000)


def test_what_is_no_key_is_refused() -> None:
    """A letter that no keypad has is the caller's mistake."""
    with pytest.raises(ValueError, match="no such keys: x"):
        Keypad().press("1x", 0, KeypadSettings())


def test_clean_samples_are_as_long_as_the_string() -> None:
    """Two keys and a comma last as long as they say, at the level they say."""
    samples = clean_samples("1,2", KeypadSettings(level_dbm=-6.0, twist_db=0.0))

    assert len(samples) == 8 * (80 + 80 + 1000 + 80 + 80)
    rms_volt = np.sqrt(np.mean(samples[:640] ** 2))
    assert rms_volt == pytest.approx(2**0.5 * dbm_to_volt(-6.0), rel=0.01)
