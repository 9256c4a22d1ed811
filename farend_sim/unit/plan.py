"""What the unit will do in the next second, as data: contacts and sounds, each with its moment.

Law: every plan is written here by one hand that knows what is closed at each moment, so that it
breaks before it makes and lifts for a reply whatever may not be closed beside it.
"""

from dataclasses import dataclass, replace

from farend_sim.unit.contacts import Closed, Contact, beside_reply, change
from farend_sim.unit.effects import Voice


@dataclass(frozen=True, slots=True)
class Step:
    """One moment of a plan: contacts are set, then what sounds begins."""

    at_us: int
    closed: Closed
    voice: Voice | None = None
    greeting: bool = False
    """Part of a knock's reply, which another key drops before it has begun."""
    begins_hold: bool = False


Plan = tuple[Step, ...]


class Planner:
    """Writes a plan from a moment on, in the order in which things shall happen."""

    __slots__ = ("_at_us", "_closed", "_greeting", "_operate_us", "_ready_us", "_steps")

    def __init__(self, now_us: int, closed: Closed, opened_us: int, operate_us: int) -> None:
        self._at_us = now_us
        self._closed = closed
        self._operate_us = operate_us
        self._greeting = False
        self._steps: list[Step] = []
        # An older plan may have been broken off while its contacts were still opening.
        self._ready_us = opened_us + operate_us

    def wait(self, delay_us: int) -> None:
        """Let time pass."""
        self._at_us += delay_us

    def settle(
        self, goal: Closed, voice: Voice | None = None, *, begins_hold: bool = False
    ) -> None:
        """Bring the contacts to a set, whatever becomes of a greeting before."""
        for step in self._way(goal, voice):
            last = step.closed == goal
            self._steps.append(
                replace(
                    step,
                    greeting=self._greeting and not last,
                    begins_hold=begins_hold and last,
                )
            )

    def reply(self, voice: Voice, *, greeting: bool = False) -> None:
        """Lift what may not be closed beside a reply, and sound it to its end."""
        self._greeting = greeting
        way = self._way(beside_reply(self._closed) | {Contact.TONE}, voice)
        self._steps += [replace(step, greeting=greeting) for step in way]
        self._at_us += voice.duration_us

    def written(self) -> Plan:
        """Return the plan."""
        return tuple(self._steps)

    def _way(self, goal: Closed, voice: Voice | None) -> Plan:
        """Return the steps to a set, the last of which is there and begins to sound."""
        way = change(self._closed, goal, self._operate_us) or ((0, goal),)
        start_us = self._at_us
        steps = []
        for delay_us, closed in way:
            self._at_us = max(self._at_us, start_us + delay_us)
            if not closed <= self._closed:
                self._at_us = max(self._at_us, self._ready_us)
            if not self._closed <= closed:
                self._ready_us = self._at_us + self._operate_us
            self._closed = closed
            steps.append(Step(self._at_us, closed, voice if closed == goal else None))
        return tuple(steps)
