"""The unit's receiver: samples at its tip and ring in, digits out, with a reason for each refusal.

Law: frames stand at absolute multiples of the hop and what is kept depends on samples alone, so
slicing them differently changes nothing. A digit ends the taking: what is behind it must be
rendered again, for the unit may have changed the line.
"""

import numpy as np

from farend_sim.control.frames import FRAME, HOP
from farend_sim.control.growing import Digit, Growing, Refused
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.tape import STRIDE, Tape
from line_model.signal import Samples, dbm_to_volt

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


class Receiver:
    """One receiver at work; it begins in silence."""

    def __init__(self, limits: ReceiverLimits) -> None:
        self.limits = limits
        self.refusals: list[Refused] = []
        """Why bursts were refused, oldest first, since the caller last cleared it."""
        self._tape: Tape | None = None  # begins with the first samples
        self._growing = Growing(limits)

    @property
    def pending(self) -> bool:
        """Whether a burst waits for its end: silence must be rendered too, up to GUARD."""
        return self._growing.pending

    # -- a stream, as it comes -----------------------------------------------------------------

    def take(self, samples: Samples, first_index: int) -> Digit | None:
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

    def _take_block(self, tape: Tape, block: Samples) -> Digit | None:
        tape.put(block)
        heard = self.hear(tape.next)
        if heard is not None:
            tape.cut(heard.index + 1)
        return heard

    def _silence(self, index: int) -> Digit | None:
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

    def expect(self, samples: Samples, first_index: int) -> Digit | None:
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

    def hear(self, stop_index: int) -> Digit | None:
        """Go through what is there up to an index, or to the sample that decides a digit."""
        tape = self._from(stop_index)
        stop = min(tape.stop, (stop_index - FRAME) // HOP + 1)
        begin = max(tape.frame, stop - STRIDE + 1)
        heard = self._go_through(tape, stop)
        if heard is None and not self.pending and tape.see(begin, stop):
            # whether something begins at the very end decides what is rendered next
            tape.frame = begin
            heard = self._go_through(tape, stop)
        tape.forget(self._growing.oldest(tape.frame) * HOP - _LEAD)
        return heard

    # -- frame by frame ------------------------------------------------------------------------

    def _go_through(self, tape: Tape, stop: int) -> Digit | None:
        growing = self._growing
        while tape.frame < stop:
            for begin, end, number in tape.stretches(tape.frame, stop):
                if number >= 0:
                    growing.extend(tape, begin, end, number)
                elif growing.pending:
                    ends = growing.ends(begin)
                    if tape.see(begin, min(end, ends + 1)):
                        break  # it may not be nothing
                    growing.pause()
                    if growing.pending and ends < end:
                        tape.frame = ends + 1
                        came = growing.end(tape, ends)
                        if isinstance(came, Digit):
                            return came
                        self.refusals.append(came)
                tape.frame = end
        return None


def read(samples: Samples, limits: ReceiverLimits) -> tuple[list[Digit], list[Refused]]:
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
