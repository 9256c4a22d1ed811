"""What the steps at the unit do: a helper's acts, the technician's own after going there.

Law: whoever stands at the unit presses and clips; what the unit makes of it is its own affair.
"""

from collections.abc import Callable
from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.bench import Bench
from farend_sim.bench.rows import Row, refused
from farend_sim.unit.events import ButtonPressed, PowerBack, PowerLost, SwitchedOff
from farend_sim.unit.table import State


def wake(bench: Bench, step: s.UnitWake) -> Row:
    if bench.unit.state is State.UNPOWERED:
        return refused("the unit has no battery in it")
    bench.at_unit(ButtonPressed())
    return {}


def off(bench: Bench, step: s.UnitOff) -> Row:
    if bench.unit.state is State.UNPOWERED:
        return refused("the unit has no battery in it")
    bench.at_unit(SwitchedOff())
    return {}


def battery(bench: Bench, step: s.UnitBattery) -> Row:
    powered = bench.unit.state is not State.UNPOWERED
    if powered == step.present:
        return refused("the battery is in already" if powered else "the battery is out already")
    bench.at_unit(PowerBack() if step.present else PowerLost())
    return {}


def clip(bench: Bench, step: s.UnitClip) -> Row:
    bench.clip_unit(reverse=step.reversed, ground=step.ground, to_sheath=step.to_sheath)
    return {}


def fault(bench: Bench, step: s.UnitFault) -> Row:
    if (step.fault in bench.unit.faults) == step.on:
        return refused("it is so already")
    bench.set_fault(step.fault, step.on)
    return {}


def unclip(bench: Bench, step: s.UnitUnclip) -> Row:
    if not bench.pair.unit.clipped:
        return refused("the unit is off the pair already")
    bench.unclip_unit()
    return {}


ACTS: dict[type, Callable[[Bench, Any], Row]] = {
    s.UnitWake: wake,
    s.UnitOff: off,
    s.UnitBattery: battery,
    s.UnitClip: clip,
    s.UnitUnclip: unclip,
    s.UnitFault: fault,
}
"""What each step does, for the transcript's table."""
