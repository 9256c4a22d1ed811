"""Readings that a hold's end spoils: when one looks valid and is not.

A meter that the bench can play is played: its button is pressed at every moment around the hold's
end, and its display is looked at as a person would. Right: within its accuracy of what it reads in
a long hold. Caught: over range, below nought, or two numbers between which it wanders. Believed: a
steady number that is wrong. An instrument known by its times shows one number at its end, whatever
happened in the last stretch it integrates over.
"""

from dataclasses import dataclass, replace

import numpy as np

from farend_sim.hold_lab.on_pair.on_bench import Held, held, read_after
from farend_sim.situation import Situation
from line_model.meters.cycle import Reading
from line_model.meters.profile import MeterProfile
from line_model.worksheet.record import loop_metres

STEP_S, MOST_PRESSES = 0.05, 400
"""How closely the moments of the press are taken [s]; of a long reading, no more than so many."""


@dataclass(frozen=True, slots=True)
class Moment:
    """One press of the button and what came of it."""

    ends_after_s: float
    """The undisturbed reading would have ended so long after the hold [s]; negative: before."""
    came: str
    """right, caught or believed."""
    began_after: bool
    """Whether the button was pressed when the hold was over: the unit had said so."""
    shown: str
    off_m: float | None
    """How far from the true place, as a loop of this cable [m]."""


@dataclass(frozen=True, slots=True)
class Windows:
    """When the hold's end goes unseen: spans of the time from the hold's end to the reading's."""

    believed_s: tuple[tuple[float, float], ...]
    moments: tuple[Moment, ...] = ()

    @property
    def width_s(self) -> float:
        return sum(high - low for low, high in self.believed_s)

    @property
    def off_m(self) -> float | None:
        """The mean distance by which believed readings are wrong [m]."""
        off = [each.off_m for each in self.moments if each.came == "believed" and each.off_m]
        return float(np.mean(off)) if off else None


def integrating(integrates_s: float) -> Windows:
    """The windows of an instrument known by its times alone."""
    return Windows(((0.0, integrates_s),))


def played(situation: Situation, profile: MeterProfile, function: str, across: str) -> Windows:
    """Press the button at every moment around a hold's end, on the bench."""
    bench = replace(situation, meters={**situation.meters, "lab": profile})
    across = profile.usual(across)
    truth = held(bench, function, 3600.0)
    clear = truth.again()
    start_us = truth.bench.now_us
    right = read_after(clear, "lab", across, start_us)
    whole_us = clear.now_us - start_us
    at_end = held(bench, function, 3 * whole_us / 1e6 + 3.0)
    step_s = max(STEP_S, whole_us / 1e6 / MOST_PRESSES)
    presses = np.arange(-whole_us / 1e6 - 2 * step_s, 4 * step_s, step_s)
    moments = tuple(
        _moment(at_end, float(at), whole_us, right, profile, across, situation) for at in presses
    )
    inside = tuple(each for each in moments if not each.began_after)
    return Windows(_believed(inside, step_s), moments)


def _moment(
    at_end: Held,
    press_s: float,
    whole_us: int,
    right: Reading,
    profile: MeterProfile,
    across: str,
    situation: Situation,
) -> Moment:
    bench = at_end.again()
    reading = read_after(bench, "lab", across, at_end.ends_us + round(press_s * 1e6))
    off_m = _off_m(reading, right, situation)
    came = _came(reading, right, profile)
    return Moment(press_s + whole_us / 1e6, came, press_s >= 0, reading.shown, off_m)


def _off_m(reading: Reading, right: Reading, situation: Situation) -> float | None:
    if reading.value is None or right.value is None or reading.unit != "ohm":
        return None
    plant = situation.scenario.plant
    found, true = loop_metres(reading.value, plant), loop_metres(right.value, plant)
    return None if found is None or true is None else abs(found - true)


def _came(reading: Reading, right: Reading, profile: MeterProfile) -> str:
    if reading.over and right.over:
        return "right"
    if reading.value is None or ".." in reading.shown:
        return "caught"
    if right.value is None:
        return "believed"
    if abs(reading.value - right.value) <= profile.within(right):
        return "right"
    return "caught" if reading.value < 0 < right.value else "believed"


def _believed(moments: tuple[Moment, ...], step_s: float) -> tuple[tuple[float, float], ...]:
    """Neighbouring moments of readings that were believed as spans, half a step around each."""
    spans: list[tuple[float, float]] = []
    for each in moments:
        if each.came == "believed":
            low, high = each.ends_after_s - step_s / 2, each.ends_after_s + step_s / 2
            if spans and low - spans[-1][1] < step_s / 4:
                spans[-1] = (spans[-1][0], high)
            else:
                spans.append((low, high))
    return tuple(spans)
