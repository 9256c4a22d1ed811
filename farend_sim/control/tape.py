"""Samples with their absolute index, and what a first look at their frames shows.

Law: frame k begins at sample k * HOP, however its samples arrive; what was never put on is
silence. Every fifth frame is looked at; the others where one of those is part of a key, and where
somebody asks. So no run of five is missed, and noise costs a fifth.
"""

from bisect import bisect_right
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from farend_sim.control.frames import FRAME, HOP, NOTHING, UNSEEN, codes_of, glance, number_of_code
from farend_sim.control.measure import Measured
from line_model.signal import Samples

STRIDE = 5
"""Of the frames looked at first: no more than the shortest run of frames that counts."""
_NEAR = np.arange(1 - STRIDE, STRIDE + 10)
"""Frames looked at round one that seems a key's: all of the shortest run that holds it, and some
behind; a choice of speed only."""
_FEW = 48
"""Frames of which all are looked at closely at once; a choice of speed only."""
_SLACK = 4096
"""Samples that may be too old before they are dropped; a choice of speed only."""

Span = tuple[int, int, int]
"""A stretch that was measured: its first sample, its length, and the code it was taken for."""


class Tape:
    """A stretch of samples that grows at one end and is forgotten at the other.

    Frames quieter than the gate voltage are not looked at.
    """

    def __init__(self, index: int, silence: int, gate_volt: float) -> None:
        self.next = index
        """Absolute index of the next sample to be put on."""
        self.frame = (index - FRAME) // HOP + 1
        """The next frame to be gone through: at first the one that a new sample completes."""
        self.measured: dict[Span, Measured] = {}
        """What has been measured of these samples."""
        self._gate = gate_volt**2 * FRAME
        self._samples = np.zeros(silence + FRAME)
        self._first, self._codes = self.frame, np.empty(0, dtype=np.intp)
        self._known: tuple[list[int], list[int]] | None = None

    @property
    def silent(self) -> bool:
        return not self._samples.any()

    def is_quiet(self, samples: Samples) -> bool:
        """Whether no frame in the samples can be over the gate."""
        return float(samples @ samples) <= self._gate

    @property
    def first(self) -> int:
        """The oldest frame that is still known."""
        return self._first

    @property
    def stop(self) -> int:
        """The frame behind the last one that is complete."""
        return self._first + len(self._codes)

    def jump(self, index: int) -> None:
        """Go on from a later index, with as much silence behind it as there is now."""
        self.next, self.frame = index, (index - FRAME) // HOP + 1
        self._first, self._codes = self.frame, self._codes[:0]
        self._known = None
        self.measured.clear()

    def put(self, block: Samples) -> None:
        """Put samples on, and look at the frames that they complete."""
        self._samples = np.concatenate((self._samples, block))
        self.next += len(block)
        stop = (self.next - FRAME) // HOP + 1
        if stop > self.stop:
            self._look(self.stop, stop)

    def _look(self, begin: int, stop: int) -> None:
        """Glance at every fifth frame, and look at all that are near one that seems a key's."""
        samples = self.span(begin * HOP, (stop - 1) * HOP + FRAME)
        silent = self.is_quiet(samples)
        fresh = np.full(stop - begin, NOTHING if silent else UNSEEN)
        self._codes = np.concatenate((self._codes, fresh))
        self._known = None
        if silent:
            return
        if stop - begin < _FEW:
            self.see(begin - STRIDE + 1, stop)
            return
        skipped = -begin % STRIDE
        found = glance(samples, skipped * HOP, STRIDE * HOP, self._gate)
        at = begin - self._first
        self._codes[at + skipped :: STRIDE] = NOTHING
        if found.size:
            near = (at + skipped + STRIDE * found[:, None] + _NEAR).ravel()
            wanted = np.zeros(len(self._codes), dtype=bool)
            wanted[near[(near >= 0) & (near < len(self._codes))]] = True
            fifth = at + skipped + STRIDE * found
            self._codes[fifth] = UNSEEN
            self._see(np.flatnonzero(wanted & (self._codes == UNSEEN)))

    def _see(self, places: NDArray[np.intp]) -> None:
        if places.size:
            begin = self.next - len(self._samples)
            firsts = (places + self._first) * HOP - begin
            self._codes[places] = codes_of(self._samples, firsts, self._gate)
            self._known = None

    def see(self, begin: int, stop: int) -> bool:
        """Look at frames that were left out; say whether there were any."""
        begin = max(begin, self._first)
        left = np.flatnonzero(self._codes[begin - self._first : stop - self._first] == UNSEEN)
        self._see(left + (begin - self._first))
        return bool(left.size)

    def code(self, frame: int) -> int:
        """What a frame that was looked at could be part of."""
        return int(self._codes[frame - self._first])

    def stretches(self, begin: int, stop: int) -> Iterator[tuple[int, int, int]]:
        """Yield first frame, frame behind the last, and key number: NOTHING where no key is seen.

        What is seen while this goes on is not in it: begin again.
        """
        starts, numbers = self._cuts()
        at = bisect_right(starts, begin) - 1
        while at < len(numbers) and starts[at] < stop:
            yield max(begin, starts[at]), min(stop, starts[at + 1]), numbers[at]
            at += 1

    def _cuts(self) -> tuple[list[int], list[int]]:
        """Where stretches begin, the end of the last one too, and the key number of each."""
        if self._known is None:
            numbers = number_of_code()[self._codes]
            cuts = np.flatnonzero(numbers[1:] != numbers[:-1]) + 1
            firsts = np.concatenate(([0], cuts)) if len(numbers) else cuts[:0]
            starts = [*(firsts + self._first).tolist(), self.stop]
            self._known = starts, numbers[firsts].tolist()
        return self._known

    def span(self, first: int, last: int) -> Samples:
        """Return samples first..last-1, which must be on it."""
        begin = self.next - len(self._samples)
        assert first >= begin, f"sample {first} is gone, the oldest is {begin}"
        return self._samples[first - begin : last - begin]

    def cut(self, index: int) -> None:
        """Take off what lies from the index on, as if it had never been put on."""
        if index >= self.next:
            return
        self._samples = self._samples[: len(self._samples) - (self.next - index)]
        self.next = index
        self._codes = self._codes[: max(0, (index - FRAME) // HOP + 1 - self._first)]
        self._known = None
        self.measured = {
            span: found for span, found in self.measured.items() if span[0] + span[1] <= index
        }

    def forget(self, before: int) -> None:
        """Drop what lies before an index."""
        drop = before - (self.next - len(self._samples))
        if drop <= _SLACK:
            return
        self._samples = self._samples[drop:]
        first = -(-before // HOP)
        if first > self._first:
            self._codes, self._first = self._codes[first - self._first :], first
            self._known = None
        self.measured = {span: found for span, found in self.measured.items() if span[0] >= before}
