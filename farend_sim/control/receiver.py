"""The unit's receiver: samples at its tip and ring in, digits out, with a reason for each refusal.

Law: this is the only verdict on whether a unit hears. Frames stand at absolute multiples of the
hop and what is kept depends on samples alone, so slicing them differently changes nothing. A digit
ends the taking: what is behind it must be rendered again, for the unit may have changed the line.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.control.burst import (
    LONG,
    SHORTEST,
    Run,
    edges,
    measure_longest,
    rough_edges,
)
from farend_sim.control.frames import FRAME, HOP
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import Measured, why_refused
from farend_sim.control.tape import STRIDE, Tape
from line_model.signal import (
    SAMPLE_HZ,
    Samples,
    dbm_to_volt,
)

BLOCK = 2048
"""Samples looked at in one go; a choice of speed only: what lies behind a digit is lost work."""
GUARD = 400
"""Silence behind the last tone that decides it, in samples: 50 ms. Source: trials."""

_GATE_DB = 40.0
"""How far under the floor a frame is still looked at, so that a refusal can name its level.
A choice, no source."""
_LEAD = 160
"""Samples kept before a burst's first frame, to find where it began, and whose frames may yet turn
out to be part of it."""
_AT_ONCE = 32768
"""Samples of a recording looked at in one go; a choice of speed only."""


@dataclass(frozen=True, slots=True)
class Heard:
    """A digit, decided at the sample `index`."""

    digit: str
    index: int
    start_index: int
    duration_samples: int
    low_hz: float
    high_hz: float
    low_dbm: float
    high_dbm: float
    noise_margin_db: float

    @property
    def twist_db(self) -> float:
        """High tone over the low one."""
        return self.high_dbm - self.low_dbm


@dataclass(frozen=True, slots=True)
class Refused:
    """A burst that was like a key, and why it was not taken."""

    why: str
    index: int
    start_index: int
    key: str


class Receiver:
    """One receiver at work; it begins in silence."""

    def __init__(self, limits: ReceiverLimits) -> None:
        self.limits = limits
        self.refusals: list[Refused] = []
        """Why bursts were refused, oldest first, since the caller last cleared it."""
        # 8 frames as shipped: a 10 ms break spoils 6 of them, a 40 ms pause 17.
        self._end_frames = round(limits.end_ms * SAMPLE_HZ / 1000 / HOP)
        self._tape: Tape | None = None  # begins with the first samples
        self._run: Run | None = None  # what grows now
        self._burst: list[Run] = []  # runs long enough, of the burst that has not ended
        self._last = 0  # the last frame that belonged to the burst
        self._early: tuple[Measured, int] | None = None  # a long burst, measured; its middle

    @property
    def pending(self) -> bool:
        """Whether a burst waits for its end: silence must be rendered too, up to GUARD."""
        return bool(self._burst) or self._run is not None

    # -- a stream, as it comes -----------------------------------------------------------------

    def take(self, samples: Samples, first_index: int) -> Heard | None:
        """Take samples up to the one that decides a digit; what is behind it is not consumed.

        Args:
            samples: volts between the unit's tip and ring, SAMPLE_HZ.
            first_index: absolute index of the first; what was skipped is silence. A digit that
                was decided in that silence has its index there, and none of these are consumed.
        """
        heard = self._silence(first_index)
        tape, at = self._from(first_index), 0
        # in silence no digit ends the taking, so that no work is lost
        block = len(samples) if tape.is_quiet(samples) else BLOCK
        while heard is None and at < len(samples):
            heard = self._take_block(tape, samples[at : at + block])
            at += block
        return heard

    def _take_block(self, tape: Tape, block: Samples) -> Heard | None:
        tape.put(block)
        heard = self.hear(tape.next)
        if heard is not None:
            tape.cut(heard.index + 1)
        return heard

    def _silence(self, index: int) -> Heard | None:
        """Put silence on up to an index; a long one is skipped once nothing is pending."""
        tape = self._from(index)
        if index < tape.next:
            raise ValueError(f"sample {index} comes after {tape.next} was expected")
        while tape.next < index:
            if index - tape.next > BLOCK and tape.silent and not self.pending:
                tape.jump(index)
                return None
            heard = self._take_block(tape, np.zeros(min(BLOCK, index - tape.next)))
            if heard is not None:
                return heard
        return None

    def _from(self, index: int) -> Tape:
        if self._tape is None:
            gate_volt = dbm_to_volt(self.limits.floor_dbm - _GATE_DB)
            self._tape = Tape(index, _LEAD, gate_volt)
        return self._tape

    # -- what is known to come -----------------------------------------------------------------

    def expect(self, samples: Samples, first_index: int) -> Heard | None:
        """Put samples on that will come unless `forgo` says otherwise; `hear` goes through them.

        A digit that was decided in silence before them is returned, and none of them are put on.
        """
        heard = self._silence(first_index)
        if heard is None:
            self._from(first_index).put(samples)
        return heard

    def forgo(self, index: int) -> None:
        """Take back what was expected from an index on."""
        if self._tape is not None:
            self._tape.cut(index)

    def hear(self, stop_index: int) -> Heard | None:
        """Go through what is there up to an index, or to the sample that decides a digit."""
        tape = self._from(stop_index)
        stop = min(tape.stop, (stop_index - FRAME) // HOP + 1)
        begin = max(tape.frame, stop - STRIDE + 1)
        heard = self._go_through(tape, stop)
        if heard is None and not self.pending and tape.see(begin, stop):
            # whether something begins at the very end decides what is rendered next
            tape.frame = begin
            heard = self._go_through(tape, stop)
        tape.forget(self._oldest(tape) * HOP - _LEAD)
        return heard

    # -- frame by frame ------------------------------------------------------------------------

    def _go_through(self, tape: Tape, stop: int) -> Heard | None:
        while tape.frame < stop:
            for begin, end, number in tape.stretches(tape.frame, stop):
                if number >= 0:
                    self._extend(tape, begin, end, number)
                elif self.pending:
                    ends = max(begin, self._last + self._end_frames) if self._burst else begin
                    if tape.see(begin, min(end, ends + 1)):
                        break  # it may not be nothing
                    self._run = None
                    if self._burst and ends < end:
                        tape.frame = ends + 1
                        if (heard := self._end(tape, ends)) is not None:
                            return heard
                tape.frame = end
        return None

    def _oldest(self, tape: Tape) -> int:
        """Return the oldest frame whose samples may still be asked for."""
        if self._early is not None:
            return tape.frame
        runs = [*self._burst, *([self._run] if self._run else [])]
        return min([tape.frame, *(run.first for run in runs)])

    def _extend(self, tape: Tape, begin: int, end: int, number: int) -> None:
        """Let frames of one key extend or begin a burst."""
        run = self._run
        if run is None or run.number != number:
            run = self._run = Run(number, begin, begin)
        run.last = end - 1
        # one of the burst's key joins it at once, another when it is long enough
        at_once = run.joined or (bool(self._burst) and self._burst[-1].number == number)
        joins = begin if at_once else max(begin, run.first + SHORTEST - 1)
        if joins >= end:
            return
        if not run.joined:
            self._burst.append(run)
            run.joined = True
        long = max(joins, self._burst[0].first + LONG)
        if self._early is None and long < end:
            run.last = long
            self._early = measure_longest(self._burst, tape, self.limits)
            run.last = end - 1
        self._last = end - 1

    def _end(self, tape: Tape, frame: int) -> Heard | None:
        """Take or refuse the burst that has ended; frame is the one that showed it."""
        index = frame * HOP + FRAME - 1
        if self._early is not None:
            found, _ = self._early
            start, stop = rough_edges(self._burst, self._last)
        else:
            found, middle = measure_longest(self._burst, tape, self.limits)
            start, stop = edges(self._burst, self._last, tape, found, middle)
        keys = list(dict.fromkeys(run.key for run in self._burst))
        self._burst, self._early = [], None
        why = why_refused(found, self.limits)
        if len(keys) > 1:
            why = f"{' and '.join(keys[:2])} ran together without a pause"
        elif why is None and stop - start < self.limits.tone_edge_ms * SAMPLE_HZ / 1000:
            why = (
                f"a tone of {1000 * (stop - start) / SAMPLE_HZ:.0f} ms is too short; "
                f"{self.limits.tone_edge_ms:g} ms is the limit"
            )
        if why is not None:
            self.refusals.append(Refused(why, index, start, found.key))
            return None
        return Heard(
            found.key, index, start, stop - start, found.low_hz, found.high_hz,
            found.low_dbm, found.high_dbm, found.noise_margin_db,
        )  # fmt: skip


def read(samples: Samples, limits: ReceiverLimits) -> tuple[list[Heard], list[Refused]]:
    """Return the digits of a recording, in which nothing depends on what is heard; and the refused.

    The same receiver as a stream's, given more at a time.
    """
    receiver, digits = Receiver(limits), []
    samples = np.concatenate((samples, np.zeros(GUARD)))
    for at in range(0, len(samples), _AT_ONCE):
        part = samples[at : at + _AT_ONCE]
        receiver.expect(part, at)
        while (heard := receiver.hear(at + len(part))) is not None:
            digits.append(heard)
    return digits, receiver.refusals
