"""The hand at a bench: whatever a person does is a step, which it begins while time goes on.

An attempt at a drill is such a hand too, and keeps what it does.
"""

from typing import Protocol

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse_for
from farend_sim.bench.steps.live import LiveBench
from farend_sim.bench.steps.transcript import Row, as_technician
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
        self._live = LiveBench(self.bench)

    def begin(self, text: str) -> Row:
        """Do a step while time goes on."""
        (step,) = parse_for(self.bench.situation, text, "step")
        return as_technician(self._live.begin(step).row)

    def advance(self, by_us: int) -> list[Row]:
        """Let time pass; a reading that is over then is told."""
        came = self._live.advance_to(self.bench.now_us + by_us)
        return [as_technician(one.row) for one in came]
