"""The helper at the far end: how the unit was left, and what can be asked for now, as steps."""

from collections.abc import Iterator
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Helper:
    """How the helper left the unit, by the steps that were done; not what the unit makes of it."""

    reversed: bool = False
    ground: bool = True
    battery: bool = True
    clipped: bool = True


def after(helper: Helper, step: str) -> Helper:
    """What the helper has left, once a step is done."""
    match step.split():
        case ["unit", "battery", way]:
            return replace(helper, battery=way == "in")
        case ["unit", "ground", way]:
            return replace(helper, ground=way == "on")
        case ["unit", "unclip"]:
            return replace(helper, clipped=False, ground=False)
        case ["unit", "clip", *how]:
            ground, crossed = "no-ground" not in how, "reversed" in how
            return replace(helper, clipped=True, ground=ground, reversed=crossed)
    return helper


def errands(helper: Helper) -> Iterator[tuple[str, str]]:
    """What the helper can be asked for: the steps, and how they read."""
    as_it_was, other = ("unit clip", "unit clip reversed")[:: -1 if helper.reversed else 1]
    yield "unit wake", "press the unit's button"
    yield "unit off", "switch the unit off"
    if helper.battery:
        yield "unit battery out", "take its battery out"
    else:
        yield "unit battery in", "put its battery in"
    if helper.clipped:
        yield other, "exchange its clips on tip and ring"
        if helper.ground:
            yield "unit ground off", "take its ground lead off"
        else:
            yield "unit ground on", "put its ground lead on"
        yield "unit unclip", "take the unit off the pair"
    else:
        yield as_it_was, "clip it on again"
