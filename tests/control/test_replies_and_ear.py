"""What the unit sounds, as samples and words, and what of it an ear gets."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim.control import ear
from farend_sim.control.replies import pattern, samples
from farend_sim.control.steady import of_steady
from farend_sim.unit.effects import Segment, Sound
from line_model.signal import dbm_to_volt, volt_to_dbm
from line_model.standing import Steady

REPLY = Sound(
    (Segment(620.0, 120_000), Segment(0.0, 60_000), Segment(480.0, 120_000)), start_us=1_000_000
)
TONE = Sound((Segment(580.0, 600_000), Segment(0.0, 400_000)), repeat=True, start_us=2_000_000)
GAINS = {620.0: 0.5 + 0j, 480.0: 0.1j, 580.0: 0.2 + 0j}


@given(
    cuts=st.lists(st.integers(0, 12_000), max_size=5), first=st.sampled_from([7000, 15_000, 10**9])
)
def test_slicing_changes_no_sample(cuts: list[int], first: int) -> None:
    """A sound cut anywhere has the same samples to the bit, the thousandth round too."""
    for sound in (REPLY, TONE):
        edges = [first, *(first + cut for cut in sorted(cuts)), first + 12_000]
        pieces = [samples(sound, GAINS, a, b) for a, b in pairwise(edges)]

        assert np.array_equal(samples(sound, GAINS, first, first + 12_000), np.concatenate(pieces))


def test_samples_follow_the_segments() -> None:
    """Silent before, between and behind; each segment at its own gain."""
    sounding = samples(REPLY, {hz: 2 * gain for hz, gain in GAINS.items()}, 0, 12_000)

    assert not sounding[:8000].any()
    assert not sounding[8960:9440].any()
    assert not sounding[10_400:].any()
    assert volt_to_dbm(float(np.std(sounding[8000:8960]))) == pytest.approx(2.22, abs=0.05)
    assert np.std(sounding[9440:10_400]) == pytest.approx(0.2, rel=0.01)


def test_a_tone_goes_on() -> None:
    """A repeating sound is as loud an hour later, and has its gaps."""
    hour = 8000 * 3602
    sounding = samples(TONE, GAINS, hour, hour + 8000)

    assert np.std(sounding[:4800]) == pytest.approx(0.2, rel=0.01)
    assert not sounding[4800:].any()


def test_words_for_what_is_heard() -> None:
    """A person hears frequencies, lengths and pauses."""
    assert pattern(REPLY) == "620 Hz 120 ms, pause 60 ms, 480 Hz 120 ms"
    assert pattern(TONE) == "580 Hz 600 ms, pause 400 ms, again and again"
    assert pattern(REPLY, {480.0}) == "620 Hz 120 ms"
    assert pattern(REPLY, {620.0}) == "480 Hz 120 ms"


def test_the_ear_gets_what_is_loud_enough() -> None:
    """What is under the threshold, or in the noise, is missing from the pattern."""
    both = ear.of_sound(REPLY, {620.0: -30.0, 480.0: -40.0}, -80.0, 0, 5_000_000)
    one = ear.of_sound(REPLY, {620.0: -60.0, 480.0: -40.0}, -80.0, 0, 5_000_000)

    assert both == ear.Heard("reply", pattern(REPLY), 1.0, -30.0)
    assert one == ear.Heard("reply", "480 Hz 120 ms", 1.18, -40.0)
    assert ear.of_sound(REPLY, {620.0: -30.0, 480.0: -40.0}, -32.0, 0, 5_000_000) is None
    assert ear.of_sound(REPLY, {620.0: -30.0, 480.0: -40.0}, -80.0, 0, 900_000) is None


def test_joining_in_late() -> None:
    """An ear that begins to listen in mid-tone hears it from there."""
    late = ear.of_sound(TONE, {580.0: -20.0}, -80.0, 10_300_000, 12_000_000)

    assert late is not None
    assert (late.what, late.start_s) == ("tone", 10.3)


def stands(what: str, **dbm: float) -> list[Steady]:
    """Sounds of one kind, by frequency and level."""
    return [Steady(what, float(hz[1:]), dbm_to_volt(level)) for hz, level in dbm.items()]


def test_steady_sounds() -> None:
    """Tones of one kind add up, whoever sends them; hum is heard as the weighting says."""
    dial = of_steady(stands("dial", _440=-20.0, _350=-20.0), -80.0, 0)
    talk = of_steady([*stands("talk", _400=-30.0), *stands("talk", _400=-30.0)], -80.0, 0)
    hum = of_steady(stands("hum", _1000=-30.0), -80.0, 5)

    assert dial == ear.Heard(
        "dial", "350 Hz and 440 Hz, steady", 0, pytest.approx(-16.99, abs=0.01)
    )
    assert talk == ear.Heard(
        "noise", "voices, from another pair", 0, pytest.approx(-26.99, abs=0.01)
    )
    assert hum == ear.Heard("noise", "a steady hum", 5e-6, pytest.approx(-30.0, abs=0.1))
    assert of_steady(stands("dial", _350=-70.0, _440=-70.0), -80.0, 0) is None
    assert of_steady(stands("hum", _60=-30.0), -80.0, 0) is None


def test_the_other_sounds() -> None:
    """A click and noise have their thresholds."""
    assert ear.of_click(-40.0, -80.0, 5) == ear.Heard("click", "a click", 5e-6, -40.0)
    assert ear.of_click(-60.0, -80.0, 5) is None
    assert ear.of_noise(-60.0, start_us=0) is None
    assert ear.of_noise(-30.0, start_us=0) == ear.Heard("noise", "a steady rush", 0, -30.0)
