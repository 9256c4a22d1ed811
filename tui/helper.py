"""The helper at the far end: how the unit was left, and which step an act of theirs is."""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Helper:
    """What the helper at the far end was asked to do; not what the unit makes of it."""

    reversed: bool = False
    ground: bool = True
    battery: bool = True
    clipped: bool = True
    last: str = ""


def after(helper: Helper, act: str) -> Helper:
    """What the helper has done, once an act is done."""
    if act == "button":
        return replace(helper, last="the button is pressed")
    if act == "off":
        return replace(helper, last="it is switched off")
    if act == "battery":
        word = "the battery is out" if helper.battery else "the battery is in"
        return replace(helper, battery=not helper.battery, last=word)
    if act == "unclip":
        word = "the unit is off the pair" if helper.clipped else "the unit is clipped on again"
        on = not helper.clipped
        return replace(helper, clipped=on, ground=on, last=word)
    if act == "clips":
        word = "the clips are as they were" if helper.reversed else "the clips are exchanged"
        clipped = replace(helper, clipped=True, ground=True)
        return replace(clipped, reversed=not helper.reversed, last=word)
    word = "the ground lead is off" if helper.ground else "the ground lead is on"
    return replace(helper, ground=not helper.ground, last=word)


def step_of(act: str, left: Helper) -> str:
    """The step that an act of the helper's is, from how it leaves the unit."""
    if act == "battery":
        return f"unit battery {'in' if left.battery else 'out'}"
    if act in ("button", "off"):
        return "unit wake" if act == "button" else "unit off"
    if act == "ground":
        return f"unit ground {'on' if left.ground else 'off'}"
    if not left.clipped:
        return "unit unclip"
    return f"unit clip{' reversed' * left.reversed}"
