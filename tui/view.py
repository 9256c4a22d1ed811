"""What the near end's panels show, made from a snapshot: pure functions, frozen views of text.

Law: nothing here can hold what only the far end knows; that is made in view_far.py.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from farend_sim.bench.snapshot import Snapshot
from farend_sim.control.ear import Heard
from farend_sim.feet import FOOT_M
from line_model.meters.meter import Reading, Stage
from tui.sitting import Helper, is_number, shown_reading

CAUTION = (
    "Simulator: no reading here proves a real pair safe; "
    "local codes and licensed practice come first."
)
STAGES = (Stage.HANDS, Stage.RANGE, Stage.SETTLE, Stage.SAMPLE)
_STAGE_WORDS = {
    Stage.HANDS: "hands on it",
    Stage.RANGE: "finding its range",
    Stage.SETTLE: "settling",
    Stage.SAMPLE: "sampling",
}
_UNITS = {"ohm": "ohm", "volt": "V"}
_BAR = 20
_SENT_KEYS = 10
_NEW_STRING_US = 1_200_000
_MARK_US = 500_000


@dataclass(frozen=True, slots=True)
class ClockView:
    time: str
    pace: str


@dataclass(frozen=True, slots=True)
class KeypadView:
    key: str | None
    """The one that sounds, or did just now."""
    sent: str
    waiting: str


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


@dataclass(frozen=True, slots=True)
class NearView:
    lead: str
    behind: str
    can_lift: bool


@dataclass(frozen=True, slots=True)
class HelperView:
    clips: str
    ground: str
    battery: str


@dataclass(frozen=True, slots=True)
class SoundView:
    at: str
    what: str
    picture: str
    pattern: str
    level: str


@dataclass(frozen=True, slots=True)
class EntryView:
    at: str
    text: str
    below: str


def clock(now_us: int, rate: int, paused: bool) -> ClockView:
    """The bench's own time, and how fast it passes."""
    tenths = now_us // 100_000
    minutes, rest = divmod(tenths, 600)
    hours, minutes = divmod(minutes, 60)
    time = f"{hours}:{minutes:02d}:{rest // 10:02d}.{rest % 10}"
    pace = "|| paused" if paused else ("> live" if rate == 1 else f">> {rate} times")
    return ClockView(time, pace)


def keypad(
    snapshot: Snapshot, keyed: Sequence[tuple[int, str]], sounded: tuple[int, str] | None
) -> KeypadView:
    """What sounds, what was keyed, what waits.

    A key stays marked for half a second, or until another sounds, so that nothing flickers.
    """
    recent = sounded is not None and snapshot.now_us - sounded[0] <= _MARK_US
    marked = sounded[1] if sounded is not None and recent else None
    sent, last_us = "", None
    for at_us, key in keyed:
        gap = last_us is not None and at_us - last_us > _NEW_STRING_US
        sent += f" {key}" if gap else key
        last_us = at_us
    return KeypadView(marked, sent[-_SENT_KEYS:].strip(), snapshot.waiting[:_SENT_KEYS])


def near(lead: str, behind: bool, lifted: bool) -> NearView:
    """What is joined at the near end beside meter and keypad."""
    leads = {
        "clear": "none",
        "short": "tip to ring",
        "ground": "to sheath",
        "loop": "a loop",
    }
    words = ("lifted" if lifted else "joined") if behind else "nothing"
    return NearView(leads[lead], words, behind)


def helper(asked: Helper) -> HelperView:
    """How the helper left the unit's clips, lead and battery."""
    return HelperView(
        "exchanged" if asked.reversed else "as marked",
        "on" if asked.ground else "off",
        "in" if asked.battery else "out",
    )


# -- the meter ---------------------------------------------------------------------------------


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
        unit=_UNITS.get(reading.unit, reading.unit) if reading and not reading.over else "",
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


def length(length_m: float, feet: bool) -> str:
    """A length as people ask for it."""
    return f"{length_m / FOOT_M:.0f} ft" if feet else f"{length_m:.0f} m"


# -- what is heard, what is written ------------------------------------------------------------


def sound(heard: Heard, middle_hz: float) -> SoundView:
    """One sound, as it would be put down; higher than `middle_hz` is a high tone."""
    return SoundView(
        f"{heard.start_s:.1f} s",
        heard.what,
        picture(heard.pattern, middle_hz),
        heard.pattern,
        f"{round(heard.level_dbm)} dBm",
    )


def picture(pattern: str, middle_hz: float) -> str:
    """A pattern as its rise and fall: high tones stand high, low ones low, a pause is a gap."""
    return "".join(_drawn(part.split(" "), middle_hz) for part in pattern.split(", "))


def _drawn(words: list[str], middle_hz: float) -> str:
    """One stretch: `550 Hz 90 ms` or `pause 60 ms`."""
    if words[0] == "pause":
        return " "
    if len(words) != 4 or words[1] != "Hz" or words[3] != "ms":
        return ""
    mark = "\u2809" if float(words[0]) > middle_hz else "\u2824"
    return mark * max(2, min(6, round(float(words[2]) / 45)))


def entry(row: Mapping[str, Any], feet: bool) -> EntryView:
    """A logbook entry."""
    at = f"{row['t_s']:.1f} s"
    if "note" in row:
        return EntryView(at, row["note"], "")
    unit = "" if row["shown"] == "over" else " " + _UNITS.get(row["unit"], row["unit"])
    loop_m = row.get("loop_m")
    below = "" if loop_m is None else f"as a loop: {length(loop_m, feet)}"
    return EntryView(at, f"{row['meter']} {row['across']}: {row['shown']}{unit}", below)
