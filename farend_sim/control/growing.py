"""A burst that grows frame by frame, and what comes of it: a digit, or a refusal with its reason.

Law: this is the only verdict on whether a unit hears; the receiver brings it frames and no more.
"""

from dataclasses import dataclass

from farend_sim.control.burst import LONG, SHORTEST, Run, edges, measure_longest, rough_edges
from farend_sim.control.frames import FRAME, HOP
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import Measured, why_refused
from farend_sim.control.tape import Tape
from line_model.signal import SAMPLE_HZ


@dataclass(frozen=True, slots=True)
class Digit:
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
    start_index: int
    key: str


class Growing:
    """The burst that has not ended, if there is one."""

    def __init__(self, limits: ReceiverLimits) -> None:
        self._limits = limits
        # 8 frames as shipped: a 10 ms break spoils 6 of them, a 40 ms pause 17.
        self._end_frames = round(limits.end_ms * SAMPLE_HZ / 1000 / HOP)
        self._run: Run | None = None  # what grows now
        self._burst: list[Run] = []  # runs long enough, of the burst that has not ended
        self._last = 0  # the last frame that belonged to the burst
        self._early: tuple[Measured, int] | None = None  # a long burst, measured; its middle

    @property
    def pending(self) -> bool:
        """Whether a burst waits for its end, or may begin."""
        return bool(self._burst) or self._run is not None

    def ends(self, begin: int) -> int:
        """The frame that shows its end, where nothing is heard from a frame on."""
        return max(begin, self._last + self._end_frames) if self._burst else begin

    def pause(self) -> None:
        """Nothing is heard: a run is over, and what was too short for a burst is forgotten."""
        self._run = None

    def oldest(self, frame: int) -> int:
        """Return the oldest frame whose samples may still be asked for, at most the one given."""
        if self._early is not None:
            return frame
        runs = [*self._burst, *([self._run] if self._run else [])]
        return min([frame, *(run.first for run in runs)])

    def extend(self, tape: Tape, begin: int, end: int, number: int) -> None:
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
            self._early = measure_longest(self._burst, tape, self._limits)
            run.last = end - 1
        self._last = end - 1

    def end(self, tape: Tape, frame: int) -> Digit | Refused:
        """Take or refuse the burst that has ended; frame is the one that showed it."""
        index = frame * HOP + FRAME - 1
        if self._early is not None:
            found, _ = self._early
            start, stop = rough_edges(self._burst, self._last)
        else:
            found, middle = measure_longest(self._burst, tape, self._limits)
            start, stop = edges(self._burst, self._last, tape, found, middle)
        keys = list(dict.fromkeys(run.key for run in self._burst))
        self._burst, self._early = [], None
        why = why_refused(found, self._limits)
        if len(keys) > 1:
            why = f"{' and '.join(keys[:2])} ran together without a pause"
        elif why is None and stop - start < self._limits.tone_edge_ms * SAMPLE_HZ / 1000:
            why = (
                f"a tone of {1000 * (stop - start) / SAMPLE_HZ:.0f} ms is too short; "
                f"{self._limits.tone_edge_ms:g} ms is the limit"
            )
        if why is not None:
            return Refused(why, start, found.key)
        return Digit(
            found.key, index, start, stop - start, found.low_hz, found.high_hz,
            found.low_dbm, found.high_dbm, found.noise_margin_db,
        )  # fmt: skip
