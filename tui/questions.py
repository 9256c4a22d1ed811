"""The questions of the bench and their answers: what a Chooser is given."""

from collections.abc import Iterable

Answers = tuple[tuple[str, str], ...]

ACROSS: Answers = tuple(
    (across, across.replace("-", "  to  "))
    for across in (
        "tip-ring",
        "tip-sheath",
        "ring-sheath",
        "ring-tip",
        "sheath-tip",
        "sheath-ring",
        "tip+ring-sheath",
        "sheath-tip+ring",
    )
)
LEADS: Answers = (
    ("clear", "take it off"),
    ("short", "tip to ring"),
    ("ground", "both legs to the sheath"),
    ("loop", "a holding loop across tip and ring"),
)
HELPER_ACTS: Answers = (
    ("button", "press the unit's button"),
    ("off", "switch the unit off"),
    ("battery", "take its battery out, or put it in"),
    ("clips", "exchange its clips on tip and ring"),
    ("ground", "take its ground lead off, or put it on"),
    ("unclip", "take the unit off the pair, or clip it on again"),
)
NO_METER = ""


def meters(names: Iterable[str]) -> Answers:
    """The meters at hand, and none."""
    return (*((name, name) for name in names), (NO_METER, "take the meter off"))
