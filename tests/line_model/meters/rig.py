"""A shipped meter on a circuit, at rest and in time, without a bench."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

from farend_sim.files import load_meter
from line_model.meters.cycle import Came, Own, Reading
from line_model.meters.meter import Meter
from line_model.meters.profile import MeterProfile
from line_model.meters.settled import Joins, came_at_rest
from line_model.parts import Part
from line_model.spell import Spell, Topologies

Parts = tuple[Part, ...]
BAD_TIP = "bad=tip good=ring"


@cache
def shipped(name: str) -> MeterProfile:
    return load_meter(name, Path())


def settled(profile: MeterProfile, across: str, parts: Parts, own: Own | None = None) -> Came:
    """The meter's cycle with all at rest; leads zeroed where it can."""
    own = own or Own(zeroed=profile.ZEROES, across=across)
    return came_at_rest(profile, across, Joins(parts), own)


def reading(
    profile: MeterProfile,
    across: str,
    parts: Callable[[int], Parts] | Parts,
    changes_us: tuple[int, ...] = (),
    error: float = 0.0,
) -> tuple[Reading, int]:
    """The meter's cycle in time, from a settled pair, and how long it took.

    Args:
        profile: the meter's file.
        across: where it is clipped.
        parts: the circuit, or the circuit from each moment on.
        changes_us: at which moments it changes.
        error: the instrument's own.
    """
    at = parts if callable(parts) else (lambda _: parts)
    meter = Meter("meter", profile, error)
    meter.clip(across)
    meter.zero()
    solved = Topologies("sheath")
    wired = (*at(0), *meter.parts())
    spell = Spell.begin(wired, 0, solved.modes(wired).rest(), solved)
    now_us, left = 0, list(changes_us)
    meter.start(0)
    while meter.deadline_us is not None:
        wired = (*at(now_us), *meter.parts())
        if wired != spell.wired:
            spell = Spell.begin(wired, now_us, spell.capacitors(now_us), solved, spell)
        ends = [meter.deadline_us, *left[:1]]
        end_us = min(at for at in (*ends, spell.deadline_us) if at is not None)
        if meter.attends and end_us > now_us:
            meter.take(spell, now_us, end_us)
        now_us = end_us
        if end_us == spell.deadline_us:
            spell = Spell.begin(wired, now_us, spell.capacitors(now_us), solved, spell)
        if left and end_us == left[0]:
            meter.switched()
            left.pop(0)
        if end_us == meter.deadline_us:
            meter.wake(now_us, spell)
    assert meter.reading is not None
    return meter.reading, now_us
