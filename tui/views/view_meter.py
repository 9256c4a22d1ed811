"""What the meter's face shows, made from a snapshot: pure, and only what a display can show."""

from collections.abc import Mapping
from dataclasses import dataclass

from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.reading_words import figures, places, scaled
from line_model.meters.cycle import Reading, Stage
from tui.person.entries import is_number

_STAGE_WORDS = {
    Stage.HANDS: "hands on it",
    Stage.RANGE: "finding its range",
    Stage.SETTLE: "settling",
    Stage.SAMPLE: "sampling",
    Stage.CHECK: "looking for foreign voltage",
    Stage.LOOP: "measuring the loop",
    Stage.CHARGE: "charging the pair",
    Stage.SWING: "the needle swings",
    Stage.DISCHARGE: "discharging the pair",
}
_BAR = 20


@dataclass(frozen=True, slots=True)
class MeterView:
    title: str
    across: str
    big: str
    """A number that stands still: shown in large digits. Empty where there is none."""
    words: str
    """What the display says otherwise."""
    unit: str
    bar: str
    stage: str
    read: str
    """When it was read."""
    loop: str
    """What else it shows, and what place on the record it may be."""
    caution: str = ""


def meter(snapshot: Snapshot, places_m: Mapping[str, float], feet: bool) -> MeterView:
    """The meter's face.

    Args:
        snapshot: the bench.
        places_m: what the reading comes to on the record [m].
        feet: whether to tell it in feet.
    """
    if snapshot.meter is None or snapshot.across is None:
        return MeterView("none clipped", "", "", "no meter on the pair", "", "", "", "", "")
    reading = snapshot.held
    big, words, unit = _display(reading, snapshot)
    beside = [] if reading is None else figures(dict(reading.more))
    return MeterView(
        title=snapshot.meter,
        across=snapshot.across,
        big=big,
        words=words,
        unit=unit,
        bar=_bar(progress(snapshot)),
        stage=_stage_words(snapshot),
        read="" if reading is None else _read_at(snapshot.read_us),
        loop="; ".join((*beside, *places(places_m, feet))),
        caution=snapshot.caution,
    )


def progress(snapshot: Snapshot) -> float | None:
    """How far the cycle is, each stage an equal part of it; None at rest."""
    if snapshot.stage not in snapshot.stages or snapshot.stage_ends_us is None:
        return None
    left_s = (snapshot.stage_ends_us - snapshot.now_us) / 1e6
    done = 1 - left_s / snapshot.stage_s if snapshot.stage_s > 0 else 1.0
    at = snapshot.stages.index(snapshot.stage)
    return (at + max(0.0, min(1.0, done))) / len(snapshot.stages)


def _display(reading: Reading | None, snapshot: Snapshot) -> tuple[str, str, str]:
    """Large digits for a number that stands still, words for all else; and the unit beside it."""
    if reading is None:
        resting = snapshot.stage is Stage.REST
        return "", "- - - -" if resting else snapshot.live or "reading ...", ""
    text, unit = scaled(reading.shown, reading.unit)
    if is_number(reading.shown):
        return text, "", unit
    if " .. " in reading.shown:
        return "", f"~ {text} ~ wanders", "" if reading.over else unit
    return "", "over range" if text == "over" else text, unit


def _bar(done: float | None) -> str:
    if done is None:
        return ""
    full = int(done * _BAR)
    return "\u25b0" * full + "\u25b1" * (_BAR - full)


def _stage_words(snapshot: Snapshot) -> str:
    stages, stage = snapshot.stages, snapshot.stage
    if stage not in stages:
        return "at rest"
    return f"{stages.index(stage) + 1} of {len(stages)}: {_STAGE_WORDS[stage]}"


def _read_at(read_us: int | None) -> str:
    return "" if read_us is None else f"at {read_us / 1e6:.1f} s"
