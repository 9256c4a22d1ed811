"""One receiver: samples known ahead and looked at together, or as they come, give the same."""

from dataclasses import dataclass, replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.control.keypad import KEYS, KeypadSettings, clean_samples
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import measure, measure_each
from farend_sim.control.receiver import GUARD, Heard, Receiver, Refused, read
from line_model.noise import white
from line_model.signal import Samples, dbm_to_volt

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


def streamed(samples: Samples, sizes: list[int]) -> tuple[list[Heard], list[Refused]]:
    """As they come, in slices; each cut where a digit was decided."""
    receiver, digits, at, turn = Receiver(LIMITS), [], 0, 0
    samples = np.concatenate((samples, np.zeros(GUARD)))
    while at < len(samples):
        end = min(len(samples), at + sizes[turn % len(sizes)])
        digit = receiver.take(samples[at:end], at)
        if digit is not None:
            digits.append(digit)
            end = digit.index + 1
        at, turn = end, turn + 1
    return digits, receiver.refusals


@settings(max_examples=80, deadline=None)
@given(streams, st.lists(st.integers(1, 6000), min_size=1, max_size=5))
def test_known_ahead_or_as_they_come(stream: Stream, sizes: list[int]) -> None:
    """The same digits, levels and refusals at the same samples, to the last bit."""
    samples = stream.samples()

    assert streamed(samples, sizes) == read(samples, LIMITS)


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
    behind = np.concatenate((instead, np.zeros(GUARD)))
    receiver.expect(behind, cut)
    while (digit := receiver.hear(cut + len(behind))) is not None:
        digits.append(digit)

    came = np.concatenate((expected[:cut], instead))
    assert (digits, receiver.refusals) == streamed(came, [1500])
    assert pending == _pending_after(came[:cut])


def _pending_after(samples: Samples) -> bool:
    receiver, at = Receiver(LIMITS), 0
    while (digit := receiver.take(samples[at:], at)) is not None:
        at = digit.index + 1
    return receiver.pending


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
