"""The latest samples with their absolute index, and the frames that are complete in them.

Law: frame k begins at sample k * HOP, however its samples arrive; what was never put on is
silence.
"""

import numpy as np

from farend_sim.control.frames import FRAME, HOP
from line_model.signal import Samples

_SLACK = 2048
"""Samples that may be too old before they are dropped; a choice of speed only."""


class Tape:
    """A stretch of samples that grows at one end and is forgotten at the other."""

    def __init__(self, index: int, silence: int) -> None:
        self.next = index
        """Absolute index of the next sample to be put on."""
        self.frame = (index - FRAME) // HOP + 1
        """The next frame to be looked at: at first the one that a new sample completes."""
        self._samples = np.zeros(silence + FRAME)

    @property
    def silent(self) -> bool:
        return not self._samples.any()

    def jump(self, index: int) -> None:
        """Go on from a later index, with as much silence behind it as there is now."""
        self.next, self.frame = index, (index - FRAME) // HOP + 1

    def put(self, block: Samples) -> Samples:
        """Put samples on; return those of the frames not looked at yet."""
        self._samples = np.concatenate((self._samples, block))
        self.next += len(block)
        return self.span(self.frame * HOP, self.next)

    def span(self, first: int, last: int) -> Samples:
        """Return samples first..last-1, which must be on it."""
        begin = self.next - len(self._samples)
        assert first >= begin, f"sample {first} is gone, the oldest is {begin}"
        return self._samples[first - begin : last - begin]

    def rewind(self, index: int) -> None:
        """Take off what lies from the index on, as if it had never been put on."""
        self._samples = self._samples[: len(self._samples) - (self.next - index)]
        self.next = index

    def forget(self, before: int) -> None:
        """Drop what lies before an index."""
        drop = before - (self.next - len(self._samples))
        if drop > _SLACK:
            self._samples = self._samples[drop:]
