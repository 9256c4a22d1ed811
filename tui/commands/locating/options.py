"""What all methods of `locate` are given: the record, how to show a place, what may be off."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Any, TypeVar, cast

import click

from line_model.constants import FOOT_M
from line_model.worksheet.tolerance import Tolerance
from tui.commands.answers import Number
from tui.commands.options import as_json, in_feet

F = TypeVar("F", bound=Callable[..., Any])

_AMOUNT = re.compile(r"([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)([kMG]?)")
_TIMES = {"": 1.0, "k": 1e3, "M": 1e6, "G": 1e9}
_MOST_OHM = 1e15

OFF = {
    "accuracy_percent": (
        "--accuracy-percent",
        "The meter's accuracy, of reading. Default: invented, as the meter that ships.",
    ),
    "accuracy_ohm": ("--accuracy-ohm", "Added to it. Default: two counts of 0.1 ohm, likewise."),
    "fraction": (
        "--accuracy-fraction",
        "The slide's accuracy. Default: a division of a thousand, common practice.",
    ),
    "farad_percent": (
        "--accuracy-nf-percent",
        "The meter's accuracy, of reading. Default: common practice, no source.",
    ),
    "farad_nf": ("--accuracy-nf", "Added to it. Default: two counts of 0.1 nF, likewise."),
    "gauge_percent": (
        "--gauge-percent",
        "Ohms as built against ohms as computed. Default: 7 CFR 1755.403(d)(6)(i).",
    ),
    "capacitance_percent": (
        "--capacitance-percent",
        "Capacitance as built. Default: 52 +- 4 nF/km, 7 CFR 1755.860(m)(1)(i).",
    ),
    "temperature_c": (
        "--temperature-off",
        "How far the stated temperature may be off, in C. Default: common practice, no source.",
    ),
    "uneven_percent": (
        "--uneven-percent",
        "One section against the others. Default: common practice, no source.",
    ),
    "unbalance_percent": (
        "--unbalance-percent",
        "One leg against the other. Default: common practice; at most 5 in new cable, "
        "7 CFR 1755.860(m)(9).",
    ),
}
"""For each quantity that may be off: its option and what it means, with the default's source."""
OHMS_OFF = ("accuracy_percent", "accuracy_ohm", "gauge_percent", "temperature_c")


class Ohms(click.ParamType[float]):
    """Ohms as people write them: 505.4, 40k, 2.5M; `over` where a meter is over range."""

    name = "ohm"

    def __init__(self, over: bool = False, positive: bool = False) -> None:
        self.over, self.positive = over, positive

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        if isinstance(value, float):
            return value
        if self.over and value == "over":
            return math.inf
        match = _AMOUNT.fullmatch(value)
        ohm = float(match[1]) * _TIMES[match[2]] if match else math.nan
        if not abs(ohm) <= _MOST_OHM or (self.positive and ohm <= 0):
            more = ", more than 0" if self.positive else ", or over" if self.over else ""
            expected = f"ohms such as 505.4, 40k or 2.5M{more}"
            self.fail(f"found {value!r}, expected {expected}", param, ctx)
        return ohm


class Place(click.ParamType[float | str]):
    """A place along the route: metres, feet with `ft` behind, or an access point's name.

    No name begins as a number does: a scenario with such a one does not load.
    """

    name = "place"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float | str:
        if isinstance(value, float) or not re.match(r"[-+.\d]", value):
            return cast(float | str, value)
        text = value.removesuffix("ft").removesuffix("m")
        match = _AMOUNT.fullmatch(text)
        if match is None or match[2] or not 0 <= float(match[1]) <= 1e9:
            self.fail(
                f"found {value!r}, expected a place such as 1200, 1200m or 3900ft", param, ctx
            )
        return float(match[1]) * (FOOT_M if value.endswith("ft") else 1.0)


OHM = Ohms()
SOME_OHM = Ohms(positive=True)
NF = Number(-1e9, 1e9, "nF")


@dataclass(frozen=True, slots=True)
class Asked:
    """What every method is asked with."""

    record: str
    temperature_c: float | None
    feet: bool
    as_json: bool
    off: Tolerance
    off_names: tuple[str, ...]
    """Those of its quantities that matter to the method."""


def with_record(*off: str) -> Callable[[F], F]:
    """Give a command the record, how to show a place, and the tolerances that matter to it.

    The command gets one `asked` in place of all these.
    """

    def decorate(command: F) -> F:
        def called(
            record: str, temperature_c: float | None, feet: bool, as_json: bool, **words: Any
        ) -> None:
            given = {name: words.pop(f"off_{name}") for name in off}
            command(Asked(record, temperature_c, feet, as_json, Tolerance(**given), off), **words)

        called.__doc__ = command.__doc__
        for option in reversed(_options(off)):
            option(called)
        # click lists parameters from the last of these to the first: the command's own come first.
        # The option above has made the attribute, which no type tells of.
        called.__click_params__ += getattr(command, "__click_params__", [])  # type: ignore[attr-defined]
        return cast(F, click.argument("record")(called))

    return decorate


def _options(off: tuple[str, ...]) -> list[Callable[[Any], Any]]:
    defaults = {each.name: each.default for each in fields(Tolerance)}
    shown = [
        click.option(
            OFF[name][0],
            f"off_{name}",
            type=Number(0.0, 50.0, "a half-width"),
            default=defaults[name],
            show_default=True,
            help=OFF[name][1],
        )
        for name in off
    ]
    return [
        *shown,
        click.option(
            "--temperature",
            "temperature_c",
            type=Number(-60.0, 90.0, "C"),
            help="Temperature of the whole cable, in C. Left out: as the record says.",
        ),
        in_feet,
        as_json,
    ]
