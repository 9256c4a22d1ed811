"""What the meter's face shows, made from a snapshot: pure, and only what a display can show."""

from collections.abc import Mapping
from dataclasses import dataclass

from farend_sim.bench.snapshot import Snapshot
from line_model.meters.meter import Reading, Stage
from tui.sitting import is_number, shown_reading
from tui.view import UNITS, length

STAGES = (Stage.HANDS, Stage.RANGE, Stage.SETTLE, Stage.SAMPLE)
_STAGE_WORDS = {
    Stage.HANDS: "hands on it",
    Stage.RANGE: "finding its range",
    Stage.SETTLE: "settling",
    Stage.SAMPLE: "sampling",
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
    """What length of loop it may be."""


def meter(
    snapshot: Snapshot, stage_s: Mapping[Stage, float], loop_m: float | None, feet: bool
) -> MeterView:
    """The meter's face.

    Args:
        snapshot: the bench.
        stage_s: how long each stage of this meter's cycle lasts [s].
        loop_m: what length of loop the reading may be [m].
        feet: whether to tell it in feet.
    """
    if snapshot.meter is None or snapshot.across is None:
        return MeterView("none clipped", "", "", "no meter on the pair", "", "", "", "", "")
    reading = shown_reading(snapshot)
    big, words = _display(reading, snapshot.stage)
    return MeterView(
        title=snapshot.meter,
        across=snapshot.across,
        big=big,
        words=words,
        unit=UNITS.get(reading.unit, reading.unit) if reading and not reading.over else "",
        bar=_bar(progress(snapshot, stage_s)),
        stage=_stage_words(snapshot.stage),
        read="" if reading is None else _read_at(snapshot.read_us),
        loop="" if loop_m is None else f"loop: {length(loop_m, feet)}",
    )


def progress(snapshot: Snapshot, stage_s: Mapping[Stage, float]) -> float | None:
    """How far the cycle is, each stage a quarter of it; None at rest."""
    if snapshot.stage not in STAGES or snapshot.stage_ends_us is None:
        return None
    lasts_s = stage_s.get(snapshot.stage, 0.0)
    left_s = (snapshot.stage_ends_us - snapshot.now_us) / 1e6
    done = 1 - left_s / lasts_s if lasts_s > 0 else 1.0
    return (STAGES.index(snapshot.stage) + max(0.0, min(1.0, done))) / len(STAGES)


def _display(reading: Reading | None, stage: Stage) -> tuple[str, str]:
    """Large digits for a number that stands still, words for all else."""
    if reading is None:
        return "", "- - - -" if stage is Stage.REST else "reading ..."
    if is_number(reading.shown):
        return reading.shown, ""
    if " .. " in reading.shown:
        return "", f"~ {reading.shown} ~ wanders"
    return "", "over range" if reading.over else reading.shown


def _bar(done: float | None) -> str:
    if done is None:
        return ""
    full = int(done * _BAR)
    return "\u25b0" * full + "\u25b1" * (_BAR - full)


def _stage_words(stage: Stage) -> str:
    if stage not in STAGES:
        return "at rest"
    return f"{STAGES.index(stage) + 1} of {len(STAGES)}: {_STAGE_WORDS[stage]}"


def _read_at(read_us: int | None) -> str:
    return "" if read_us is None else f"at {read_us / 1e6:.1f} s"
