"""One receiver: samples known ahead and looked at together, or as they come, give the same."""

from dataclasses import dataclass, replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.control.growing import Digit
from farend_sim.control.keypad import KEYS, KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import measure, measure_each
from farend_sim.control.receiver import GUARD, Receiver, read
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt

from .listening import heard

LIMITS = ReceiverLimits()


@dataclass(frozen=True)
class Stream:
    """Keys of all sorts, one after another, over noise, and dial tone now and then."""

    keys: str
    each: tuple[KeypadSettings, ...]
    noise_dbm: float
    dial: bool
    seed: int
    phase: int

    def samples(self) -> Samples:
        parts = [clean_samples(*one) for one in zip(self.keys, self.each, strict=True)]
        out = np.concatenate([np.zeros(200 + self.phase), *parts, np.zeros(GUARD)])
        out += dbm_to_volt(self.noise_dbm) * white(self.seed, "stream", 0, len(out))
        if self.dial:
            at = np.arange(len(out)) / 8000
            out += dbm_to_volt(-20) * (np.sin(700 * np.pi * at) + np.sin(880 * np.pi * at))
        return out


keypads = st.builds(
    KeypadSettings,
    level_dbm=st.floats(-42, 0),
    twist_db=st.floats(-10, 6),
    on_ms=st.integers(15, 260),
    off_ms=st.integers(5, 120),
    frequency_error_percent=st.floats(-4, 4),
)
streams = st.integers(1, 9).flatmap(
    lambda count: st.builds(
        Stream,
        keys=st.text("".join(KEYS), min_size=count, max_size=count),
        each=st.lists(keypads, min_size=count, max_size=count).map(tuple),
        noise_dbm=st.floats(-80, -25),
        dial=st.booleans(),
        seed=st.integers(0, 1000),
        phase=st.integers(0, 40),
    )
)


slices = st.lists(st.integers(1, 60) | st.integers(1, 6000), min_size=1, max_size=5)


@settings(max_examples=80, deadline=None)
@given(streams, slices, st.sampled_from((0, 10**9)))
def test_known_ahead_or_as_they_come(stream: Stream, sizes: list[int], first: int) -> None:
    """In one go or in any slices: the same digits, levels and refusals, to the last bit."""
    samples = stream.samples()
    digits, refused = read(samples, LIMITS)

    came, receiver = heard(behind(samples), LIMITS, sizes, first)

    assert [later(one, first) for one in digits] == came
    assert [one.why for one in refused] == [one.why for one in receiver.refusals]
    assert first or refused == receiver.refusals


def behind(samples: Samples) -> Samples:
    """With the silence behind, in which the last of it is decided."""
    return np.concatenate((samples, np.zeros(GUARD)))


def later(digit: Digit, by: int) -> Digit:
    return replace(digit, index=digit.index + by, start_index=digit.start_index + by)


@settings(max_examples=40, deadline=None)
@given(streams, streams, st.floats(0, 1), st.integers(1, 3000))
def test_what_is_forgone_was_never_expected(
    stream: Stream, other: Stream, where: float, step: int
) -> None:
    """The line changes half way: what had been put on for later leaves no trace."""
    expected, instead = stream.samples(), other.samples()
    cut = round(where * len(expected))
    receiver, digits, at = Receiver(LIMITS), [], 0
    receiver.expect(expected, 0)
    while at < cut:
        at = min(cut, at + step)
        while (digit := receiver.hear(at)) is not None:
            digits.append(digit)
    receiver.forgo(cut)
    pending = receiver.pending
    receiver.expect(behind(instead), cut)
    while (digit := receiver.hear(cut + len(instead) + GUARD)) is not None:
        digits.append(digit)

    came = np.concatenate((expected[:cut], instead))
    as_they_came, beside = heard(behind(came), LIMITS, [1500])
    assert (digits, receiver.refusals) == (as_they_came, beside.refusals)
    assert pending == heard(expected[:cut], LIMITS)[1].pending


def test_together_or_one_by_one_they_measure_the_same() -> None:
    """Forty bursts at once, and each alone: equal to the last bit, the fit too."""
    draw = np.random.default_rng(3)
    flat = KeypadSettings(level_dbm=-20.0, on_ms=60)
    keys = draw.choice(list(KEYS), 40)
    errors = draw.uniform(-1.2, 1.2, 40)
    stack = np.stack(
        [
            clean_samples(key, replace(flat, frequency_error_percent=float(error)))[100:316]
            for key, error in zip(keys, errors, strict=True)
        ]
    )
    stack += 1e-3 * white(4, "stack", 0, stack.size).reshape(stack.shape)
    near_hz = np.array([KEYS[key] for key in keys])

    together = measure_each(stack, [str(key) for key in keys], near_hz)

    for row, key, found in zip(stack, keys, together, strict=True):
        alone = measure(row, str(key), KEYS[key])
        assert np.array_equal(alone.fit, found.fit)
        assert replace(alone, fit=found.fit) == found
