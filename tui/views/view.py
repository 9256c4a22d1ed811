"""What the near end's panels show, made from a snapshot: pure functions, frozen views of text.

Law: nothing here can hold what only the far end knows; that is made in view_far.py.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.reading_words import figures, places, with_unit
from tui.person.heard_list import Listed
from tui.person.helper import Helper

_SENT_KEYS = 10
_NEW_STRING_US = 1_200_000
"""A longer pause parts what was keyed, as it is shown: a choice, no source."""
_MARK_US = 500_000
"""How long a key stays marked: a choice, no source."""


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
class NearView:
    lead: str
    behind: str
    can_lift: bool
    here: str = ""
    """Where the technician stands and what the leads look at; empty where there is no choice."""
    has_places: bool = False
    has_block: bool = False


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


def clock(now_us: int, rate: int, paused: bool, budget_s: float | None = None) -> ClockView:
    """The bench's own time, of what a drill allows, and how fast it passes."""
    tenths = now_us // 100_000
    minutes, rest = divmod(tenths, 600)
    hours, minutes = divmod(minutes, 60)
    time = f"{hours}:{minutes:02d}:{rest // 10:02d}.{rest % 10}"
    pace = "|| paused" if paused else ("> live" if rate == 1 else f">> {rate} times")
    allowed = "" if budget_s is None else f" of {budget_s / 60:.0f} min"
    return ClockView(time + allowed, pace)


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


def near(snapshot: Snapshot, behind: bool, places: bool, block: bool) -> NearView:
    """What is joined where the technician stands, beside meter and keypad."""
    leads = {
        "clear": "none",
        "short": "tip to ring",
        "ground": "to sheath",
        "loop": "a loop",
    }
    words = ("lifted" if snapshot.lifted else "joined") if behind else "nothing"
    here = ""
    if places:
        at = snapshot.where
        look = "not open" if snapshot.looking is None else f"toward {snapshot.looking}"
        here = f"{at} end" if at in ("near", "far") else f"{at}, {look}"
    return NearView(leads[snapshot.lead], words, behind, here, places, block)


def helper(asked: Helper) -> HelperView:
    """How the helper left the unit's clips, lead and battery."""
    clips = "exchanged" if asked.reversed else "as marked"
    return HelperView(
        clips if asked.clipped else "off the pair",
        "on" if asked.ground else "off",
        "in" if asked.battery else "out",
    )


# -- what is heard, what is written ------------------------------------------------------------


def sound(listed: Listed, middle_hz: float) -> SoundView:
    """One sound, as it would be put down; higher than `middle_hz` is a high tone."""
    heard = listed.heard
    over = f"; over at {listed.last_s:.1f} s" if listed.over else ""
    return SoundView(
        f"{heard.start_s:.1f} s",
        heard.what,
        picture(heard.pattern, middle_hz),
        heard.pattern + over,
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
    shown = with_unit(row["shown"], row["unit"])
    where = f", at {row['where']}" if "where" in row else ""
    where += f" toward {row['looking']}" if "looking" in row else ""
    below = "; ".join(places(row, feet))
    beside = "; ".join(figures(row))
    return EntryView(
        at,
        f"{row['meter']} {row['across']}{where}: {shown}",
        "\n".join(filter(None, (beside, below))),
    )
