"""The questions of the bench and their answers: what a Chooser is given."""

from collections.abc import Iterable

from line_model.meters.leads import bad_good
from line_model.meters.profile import MeterProfile

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
ONE_LEG: Answers = tuple(
    (f"{leg}-{mate}+sheath", f"{leg}  to  {mate} and sheath together")
    for leg, mate in (("tip", "ring"), ("ring", "tip"))
)
BAD_GOOD: Answers = tuple(
    (bad_good(bad, good), f"{bad} is bad, {good} is good")
    for bad, good in (("tip", "ring"), ("ring", "tip"))
)
LEADS: Answers = (
    ("near clear", "take it off"),
    ("near short", "tip to ring"),
    ("near ground", "both legs to the sheath"),
    ("near loop", "a holding loop across tip and ring"),
)
NO_METER = ""


def hookups(profile: MeterProfile | None) -> Answers:
    """How a meter can be clipped on, the usual way first."""
    if profile is not None and profile.HOOKUP == "bad-good":
        return BAD_GOOD
    return (*ACROSS, *ONE_LEG)


def meters(names: Iterable[str]) -> Answers:
    """The meters at hand, and none."""
    return (*((name, name) for name in names), (NO_METER, "take the meter off"))
