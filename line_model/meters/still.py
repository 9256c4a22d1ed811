"""What a meter reads when all has settled: the same cycle, without time and without error."""

from collections.abc import Callable
from math import inf

from line_model.meters.cycle import Amount, Came, MeterFile, Own, Taken
from line_model.meters.standing import Standing
from line_model.parts import Part
from line_model.terminals import NEAR, Terminals

Join = Callable[[tuple[Part, ...]], Standing]
"""Joins a meter's parts to a circuit and gives what then stands on it at rest."""


def came_at_rest(
    profile: MeterFile, across: str, join: Join, own: Own | None = None, at: Terminals = NEAR
) -> Came:
    """Go through a meter's cycle with everything settled at every stage.

    Args:
        profile: the meter's file.
        across: its hook-up, such as `tip-ring` or `bad=tip good=ring`.
        join: gives what stands on the circuit with the meter's parts joined to it.
        own: an instrument's own error and zeroed leads; a perfect one with bare leads if left out.
        at: where it is clipped.
    """
    own = own or Own(across=across)
    taken: tuple[Taken, ...] = ()
    setting = profile.REST
    while not isinstance(do := profile.doing(taken, own), Came):
        setting = setting if do.setting is None else do.setting
        rest: Amount = ()
        if do.takes:
            rest = profile.at_rest(setting, join(profile.parts(setting, across, at)), 0)
        taken = (*taken, Taken(do, rest, rest))
    return do


def value_at_rest(profile: MeterFile, across: str, join: Join, own: Own | None = None) -> float:
    """The value alone; infinite over range, not a number where the display says why it has none."""
    came = came_at_rest(profile, across, join, own)
    if came.value is not None:
        return came.value
    return inf if came.over else float("nan")
