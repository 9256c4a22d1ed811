"""The state each reading was meant to be made in: that of a unit which hears every key.

Law: made from what was keyed and when, and from acts at the unit; what the real unit did of it is
not looked at.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from farend_sim.bench.steps import Keys, UnitBattery, UnitOff, UnitWake
from farend_sim.control.keypad import PAUSE_KEY, PAUSE_US
from farend_sim.drill.work.done import Done
from farend_sim.situation import Situation
from farend_sim.unit.codes import compiled
from farend_sim.unit.events import ButtonPressed, DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import State

_NEVER_S = 1e12
"""Longer than any drill: whether the real unit has gone to sleep is not looked at."""


def readings_asked(done: Sequence[Done], situation: Situation) -> Iterator[tuple[Done, State]]:
    """Each reading, with the state that was asked for when it was begun."""
    timing = replace(situation.unit.timing, sleep_after_s=_NEVER_S)
    unit = Unit(compiled(situation.scheme), timing, situation.unit.electrical.tone_hz)
    keypad = situation.scenario.keypad
    for each in done:
        step, now_us = each.step, each.before.now_us
        if each.refused:
            continue
        unit.wake(now_us)
        if each.is_reading:
            yield each, unit.state
        elif isinstance(step, UnitWake | UnitOff | UnitBattery):
            unit.handle(ButtonPressed(), now_us)
        elif isinstance(step, Keys):
            key_us = (step.on_us or keypad.on_ms * 1000) + (step.off_us or keypad.off_ms * 1000)
            for digit in step.digits:
                now_us += PAUSE_US if digit == PAUSE_KEY else key_us
                if digit != PAUSE_KEY:
                    unit.handle(DigitHeard(digit), now_us)
