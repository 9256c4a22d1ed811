"""A burst: runs of frames of one key, where in it to measure, and where it began and ended."""

from dataclasses import dataclass

import numpy as np

from farend_sim.control.frames import FRAME, HOP, NUMBERED, grid_hz
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import MIDDLE, Measured, measure, measure_each
from farend_sim.control.tape import Span, Tape

RIM = 40
"""Samples at either end of a run that may lie outside the tone: a frame is good from 60 %.
Source: trials."""
SHORTEST = 5
"""Consecutive frames of one key that make a burst worth measuring. Source: trials."""
LONG = 64
"""Frames after which a burst is measured without waiting for its end, 160 ms. Source: a choice."""


@dataclass(slots=True)
class Run:
    """Consecutive frames of one key."""

    number: int
    """The key's."""
    first: int
    last: int
    joined: bool = False
    """Whether it is part of the burst that has not ended."""

    @property
    def key(self) -> str:
        return NUMBERED[self.number]

    @property
    def inside(self) -> tuple[int, int]:
        """The samples that lie in the tone for certain: the first, and the one behind the last."""
        return self.first * HOP + RIM, self.last * HOP + FRAME - RIM


def measure_longest(runs: list[Run], tape: Tape, limits: ReceiverLimits) -> tuple[Measured, int]:
    """Measure the middle of the longest run; return it with twice the middle's index.

    Where a short break, or anything else, spoils the middle, the better half counts.
    """
    run = max(runs, key=lambda one: one.last - one.first)
    first, last = run.inside
    found = _measured(tape, run, first, last)
    half = (first + last) // 2
    if found[0].noise_margin_db >= limits.noise_margin_db or half - first < FRAME:
        return found
    halves = [_measured(tape, run, *part) for part in ((first, half), (half, last))]
    return max(found, *halves, key=lambda one: one[0].noise_margin_db)


def _measured(tape: Tape, run: Run, first: int, last: int) -> tuple[Measured, int]:
    """Return what the middle of a run is, with twice that middle's index."""
    span = _middle(tape, run, first, last)
    if span not in tape.measured:
        _measure_ahead(tape, span[0])
    if (found := tape.measured.get(span)) is None:
        first, length, code = span
        found = measure(tape.span(first, first + length), run.key, grid_hz(code))
        tape.measured[span] = found
    return found, 2 * span[0] + span[1] - 1


def _middle(tape: Tape, run: Run, first: int, last: int) -> Span:
    length = min(MIDDLE, last - first) // 2 * 2
    first += (last - first - length) // 2
    frame = (first + length // 2 - FRAME // 2) // HOP
    return first, length, tape.code(min(max(frame, run.first), run.last))


def _measure_ahead(tape: Tape, index: int) -> None:
    """Measure in one go what lies on the tape from an index on and will be asked for.

    A choice of speed only: whoever asks for something else has it measured then.
    """
    spans, numbers = [], []
    for first, stop, number in tape.stretches(max(index // HOP - LONG, tape.first), tape.stop):
        if number < 0 or stop - first < SHORTEST or stop == tape.stop:
            continue
        run = Run(number, first, min(stop - 1, first + LONG))
        span = _middle(tape, run, *run.inside)
        if span[0] >= index and span[1] == MIDDLE and span not in tape.measured:
            spans.append(span)
            numbers.append(number)
    if len(spans) > 1:
        stack = np.stack([tape.span(first, first + MIDDLE) for first, _, _ in spans])
        near_hz = np.array([grid_hz(code) for _, _, code in spans])
        found = measure_each(stack, [NUMBERED[number] for number in numbers], near_hz)
        tape.measured.update(zip(spans, found, strict=True))


def rough_edges(runs: list[Run], last_frame: int) -> tuple[int, int]:
    """Return where a burst began and ended to 2.5 ms, from its frames alone."""
    return runs[0].first * HOP + RIM, last_frame * HOP + FRAME - RIM


def edges(
    runs: list[Run], last_frame: int, tape: Tape, found: Measured, middle: int
) -> tuple[int, int]:
    """Return where a burst began and ended, as the fit carried on to both sides sees it."""
    rough = rough_edges(runs, last_frame)
    first, last = rough[0] - 2 * RIM, rough[1] + 2 * RIM
    tones = found.tones(first - middle / 2.0, last - first)
    alike = tape.span(first, last) * tones / np.mean(np.square(tones))
    split = middle // 2 + 1
    start = round(split - float(alike[: split - first].sum()))
    stop = round(split + float(alike[split - first :].sum()))
    # Behind a hole the phase may be another one, and then the fit sees less than there is.
    whole = len(runs) == 1 or stop - start >= rough[1] - rough[0]
    return (start, stop) if whole else rough
