"""A burst: runs of frames of one key, where in it to measure, and where it began and ended."""

from dataclasses import dataclass

import numpy as np

from farend_sim.control.frames import FRAME, HOP, grid_hz
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import MIDDLE, Measured, measure
from farend_sim.control.tape import Tape

RIM = 40
"""Samples at either end of a run that may lie outside the tone: a frame is good from 60 %."""


@dataclass(slots=True)
class Run:
    """Consecutive frames of one key."""

    key: str
    first: int
    codes: list[int]
    joined: bool = False
    """Whether it is part of the burst that has not ended."""

    @property
    def last(self) -> int:
        return self.first + len(self.codes) - 1


def measure_longest(runs: list[Run], tape: Tape, limits: ReceiverLimits) -> tuple[Measured, int]:
    """Measure the middle of the longest run; return it with twice the middle's index.

    Where a short break, or anything else, spoils the middle, the better half counts.
    """
    run = max(runs, key=lambda one: len(one.codes))
    first, last = run.first * HOP + RIM, run.last * HOP + FRAME - RIM
    found = _measure_middle(tape, run, first, last)
    half = (first + last) // 2
    if found[0].noise_margin_db >= limits.noise_margin_db or half - first < FRAME:
        return found
    halves = [_measure_middle(tape, run, *part) for part in ((first, half), (half, last))]
    return max(found, *halves, key=lambda one: one[0].noise_margin_db)


def _measure_middle(tape: Tape, run: Run, first: int, last: int) -> tuple[Measured, int]:
    length = min(MIDDLE, last - first)
    first += (last - first - length) // 2
    frame = (first + length // 2 - FRAME // 2) // HOP - run.first
    near_hz = grid_hz(run.codes[min(max(frame, 0), len(run.codes) - 1)])
    return measure(tape.span(first, first + length), run.key, near_hz), 2 * first + length - 1


def rough_edges(runs: list[Run], last_frame: int) -> tuple[int, int]:
    """Return where a burst began and ended to 2.5 ms, from its frames alone."""
    return runs[0].first * HOP + RIM, last_frame * HOP + FRAME - RIM


def edges(
    runs: list[Run], last_frame: int, tape: Tape, found: Measured, middle: int
) -> tuple[int, int]:
    """Return where a burst began and ended, as the fit carried on to both sides sees it."""
    rough = rough_edges(runs, last_frame)
    first, last = rough[0] - 2 * RIM, rough[1] + 2 * RIM
    tones = found.tones(np.arange(first, last) - middle / 2.0)
    alike = tape.span(first, last) * tones / np.mean(np.square(tones))
    split = middle // 2 + 1
    start = round(split - float(alike[: split - first].sum()))
    stop = round(split + float(alike[split - first :].sum()))
    # Behind a hole the phase may be another one, and then the fit sees less than there is.
    whole = len(runs) == 1 or stop - start >= rough[1] - rough[0]
    return (start, stop) if whole else rough
