"""A bench under somebody's hands: a step lasts until it is over, or only begins while time goes on.

Law: what comes of a step does not depend on the slices in which time is let pass.
"""

from dataclasses import dataclass

from farend_sim.bench.bench import Bench
from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.meter import Read
from farend_sim.bench.steps.step import Row, Step
from farend_sim.bench.steps.transcript import begin_one, play_one, reading_row


@dataclass(frozen=True, slots=True, kw_only=True)
class Came:
    """What came of a step: its row with all that the far end knows, and the bench around it."""

    step: Step
    row: Row
    before: Snapshot
    after: Snapshot


class LiveBench:
    """Takes steps, and tells a reading that only began once its cycle is over."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        bench.hears(bench.now_us, "screen")  # a screen may ask from now on
        self._reading: tuple[Step, Snapshot] | None = None

    def do(self, step: Step) -> Came:
        """Do a step, and let time pass until it is over."""
        self._over()
        before = self.bench.snapshot()
        return self._came(step, play_one(self.bench, step), before)

    def begin(self, step: Step) -> Came:
        """Do a step and let no time pass: keys sound and a reading is made while it does."""
        self._over()
        before = self.bench.snapshot()
        came = self._came(step, begin_one(self.bench, step), before)
        if is_to_come(came):
            self._reading = step, before
        return came

    def advance_to(self, until_us: int) -> list[Came]:
        """Let time pass until a moment; returns the reading that was finished meanwhile."""
        came = self._over()
        while self._reading is not None and (ends_us := self._cycle_ends_us) is not None:
            if ends_us > until_us:
                break
            self.bench.advance_to(ends_us)
            came += self._over()
        self.bench.advance_to(until_us)
        return came

    @property
    def _cycle_ends_us(self) -> int | None:
        """When the meter's stage ends; None at rest."""
        return None if self.bench.meter is None else self.bench.meter.deadline_us

    def _over(self) -> list[Came]:
        """The reading whose cycle is over, be it while another step lasted; none if given up."""
        if self._reading is None or self._cycle_ends_us is not None:
            return []
        (step, before), self._reading = self._reading, None
        now = self.bench.snapshot()
        if now.reading is None or now.meter != before.meter:
            return []
        return [self._came(step, reading_row(self.bench, step, before.now_us), before)]

    def _came(self, step: Step, row: Row, before: Snapshot) -> Came:
        return Came(step=step, row=row, before=before, after=self.bench.snapshot())


def is_to_come(came: Came) -> bool:
    """Whether it is a reading that has only begun."""
    return isinstance(came.step, Read) and not {"shown", "refused"} & came.row.keys()
