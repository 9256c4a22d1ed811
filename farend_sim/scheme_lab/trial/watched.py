"""A unit under watch: the real firmware, and a list of what its table was asked and when.

Law: it decides nothing; timers are woken one by one at their own moments, so that none is missed.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.effects import Effects
from farend_sim.unit.events import Event
from farend_sim.unit.firmware import Unit
from farend_sim.unit.profile import Electrical, Timing
from farend_sim.unit.table import FUNCTIONS, Input, State


@dataclass(frozen=True, slots=True)
class Took:
    """One input that the table was given."""

    at_us: int
    input: Input
    state: State
    """The state that it led to."""
    hold_us: int | None
    """Of a function, how long it will hold; of set-hold, what it set."""


class Watched:
    """One unit and what it has taken."""

    def __init__(self, scheme: CompiledScheme, timing: Timing, electrical: Electrical) -> None:
        self.unit = Unit(scheme, timing, electrical.tone_hz)
        self.took: list[Took] = []

    def handle(self, event: Event, now_us: int) -> Effects:
        """Let something happen, everything due before it done first."""
        effects = sum(self.run_to(now_us - 1), ())
        return effects + self._noted(self.unit.handle(event, now_us))

    def run_to(self, until_us: int) -> Iterator[Effects]:
        """Let time pass; yield what the unit does at each of its own moments."""
        while (due_us := self.unit.deadline_us) is not None and due_us <= until_us:
            yield self._noted(self.unit.wake(due_us))

    def _noted(self, effects: Effects) -> Effects:
        unit = self.unit
        if unit.taken is not None:
            (heard, at_us), unit.taken = unit.taken, None
            hold_us = unit.hold_us if heard.input.does in FUNCTIONS else heard.hold_us
            self.took.append(Took(at_us, heard.input, unit.state, hold_us))
        return effects
