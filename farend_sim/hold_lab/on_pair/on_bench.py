"""One hold on the real bench: dialled, heard, closed; then readings, until the hold lets go.

Law: nothing here knows what a reading should be; it presses, waits and looks, as a person does.
"""

import copy
from dataclasses import dataclass, replace

from farend_sim.bench.bench import Bench
from farend_sim.errors import BadFileError
from farend_sim.situation import Situation
from farend_sim.unit.keying import dialled
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import State
from line_model.meters.cycle import Reading

PAUSE_US = 1_500_000
"""Before knock and command: time for a reply [us]. A choice, no source."""
WAIT_US = 5_000_000
"""A command that has moved no contact by then was not heard [us]. Likewise."""


@dataclass(frozen=True, slots=True)
class Held:
    """A bench at the moment at which a function's contacts have closed."""

    bench: Bench
    ends_us: int

    def again(self) -> Bench:
        """A bench of one's own at that moment."""
        return copy.deepcopy(self.bench)


def held(situation: Situation, function: str, hold_s: float) -> Held:
    """Dial a function with a hold and wait until its contacts have closed.

    Raises:
        BadFileError: the unit does not hear it on this plant.
    """
    scheme = situation.scheme
    holding = tuple(
        each if each.hold_s is None else replace(each, hold_s=hold_s) for each in scheme.command
    )
    # whoever times readings has found the pair at its block
    clipped = replace(situation.scenario, block=None)
    bench = Bench(replace(situation, scenario=clipped, scheme=replace(scheme, command=holding)))
    dial(bench, scheme, function)
    ends_us = _ends(bench, State(function))
    if ends_us is None:
        name = situation.path.stem
        raise BadFileError(
            f"{name}: found a unit that hears no command for {function} on this plant, "
            "expected one on which a hold can begin"
        )
    return Held(bench, ends_us)


def dial(bench: Bench, scheme: Scheme, does: str) -> None:
    """Dial knock and command, each after a pause, until the last key has sounded."""
    for keys in (scheme.knock + scheme.unit_number, dialled(scheme, does)):
        bench.advance_to(bench.now_us + PAUSE_US)
        bench.press(keys)
        assert bench.keypad.ends_us is not None
        bench.advance_to(bench.keypad.ends_us)


def _ends(bench: Bench, state: State) -> int | None:
    """Let time pass until the unit holds a state; when that will end."""
    until_us = bench.now_us + WAIT_US
    while bench.unit.state is not state or bench.unit.hold_deadline_us is None:
        if bench.now_us >= until_us:
            return None
        bench.advance_to(bench.now_us + 10_000)
    return bench.unit.hold_deadline_us


def read_after(bench: Bench, meter: str, across: str, until_us: int) -> Reading:
    """Clip a meter on at once, press at a moment that has yet to come, and read."""
    bench.clip_meter(meter, across)
    bench.advance_to(until_us)
    bench.start_reading()
    return bench.finish_reading()
