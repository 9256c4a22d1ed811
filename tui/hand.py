"""The hand at a bench: whatever a person does is a step, which it begins while time goes on.

An attempt at a drill is such a hand too, and keeps what it does.
"""

from collections.abc import Mapping
from typing import Any, Protocol

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import Row, as_technician, begin_one, reading_row
from farend_sim.control.ear import Heard
from farend_sim.situation import Situation


class Hand(Protocol):
    """What begins steps and lets time pass."""

    bench: Bench

    def begin(self, text: str) -> Row:
        """Do a step while time goes on; returns a technician's row.

        Raises:
            BadFileError: the text is no step.
        """

    def advance(self, by_us: int) -> list[Row]:
        """Let time pass; returns the reading that was finished meanwhile."""


class FreeHand:
    """Steps at a bench of one's own, with no drill around it."""

    def __init__(self, situation: Situation) -> None:
        self.bench = Bench(situation)
        self._meters = tuple(situation.meters)
        self._reads: tuple[Any, int] | None = None

    def begin(self, text: str) -> Row:
        """Do a step while time goes on."""
        (step,) = parse(text, "step", self._meters)
        start_us = self.bench.now_us
        row = begin_one(self.bench, step)
        if text == "read" and "refused" not in row:
            self._reads = step, start_us
        return as_technician(row)

    def advance(self, by_us: int) -> list[Row]:
        """Let time pass; a reading that is over then is told."""
        self.bench.advance_to(self.bench.now_us + by_us)
        meter = self.bench.meter
        if self._reads is None or (meter is not None and meter.deadline_us is not None):
            return []
        (step, start_us), self._reads = self._reads, None
        if self.bench.snapshot().reading is None:
            return []
        row = dict(as_technician(reading_row(self.bench, step, start_us)))
        return [row]


def heard_of(row: Mapping[str, Any]) -> Heard:
    """A sound of a row, as the ear gave it."""
    return Heard(**row)
