"""The grammar of a steps file: text to steps, with every mistake of the file at once.

A line is a verb and its words. A line whose first non-blank character is `#` is a comment;
elsewhere `#` is a key or text. A verb is one entry of `VERBS`: its usage and the function
that reads its words.
"""

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass
from difflib import get_close_matches
from typing import cast, get_args

from farend_sim.bench import steps
from farend_sim.bench.steps import Step
from farend_sim.errors import Problem
from farend_sim.loading.messages import bad_file

KEYS = frozenset("0123456789*#ABCD")
PAUSE = ","
LONGEST_S = 86_400.0
"""A day, far longer than any hold: longer waits are slips of the finger. Invented here."""
LONGEST_KEY_MS = 60_000
LEVELS_DBM = (-80.0, 10.0)
"""The limits of a scenario's own `[keypad]`: they only catch slips. Invented here."""
ACROSS = get_args(steps.Across)
NEAR = get_args(steps.NearLead)


class _MistakeError(Exception):
    """One thing wrong with a line."""

    def __init__(self, found: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(found)
        self.problem = Problem(path="", found=found, expected=expected, nearest=nearest)


@dataclass(frozen=True, slots=True)
class _Line:
    """A line taken apart: its number, its text, and the words after the verb."""

    line: int
    text: str
    words: tuple[str, ...]
    meters: Collection[str] | None


def _choice(word: str, known: Collection[str]) -> str:
    """The word, if it is known.

    Raises:
        _MistakeError: it is not; says which are, and the nearest.
    """
    if word in known:
        return word
    nearest = get_close_matches(word, known, n=1)
    found = repr(word) if word else "nothing"
    raise _MistakeError(found, "one of " + ", ".join(known), nearest[0] if nearest else None)


def _exactly(line: _Line, count: int) -> None:
    """Refuse too few or too many words."""
    if len(line.words) != count:
        found = repr(line.text)
        raise _MistakeError(found, VERBS[line.text.split()[0]].usage)


def _number(word: str, least: float, most: float, unit: str) -> float:
    """A finite number within limits, or a mistake that names them."""
    expected = f"{unit} from {least:g} to {most:g}"
    try:
        number = float(word)
    except ValueError:
        raise _MistakeError(repr(word), expected) from None
    if not (math.isfinite(number) and least <= number <= most) or "_" in word:
        raise _MistakeError(repr(word), expected)
    return number


def _seconds_us(line: _Line) -> int:
    """The one word of `wait` and `listen` [us]."""
    _exactly(line, 1)
    return round(_number(line.words[0], 0.0, LONGEST_S, "seconds") * 1e6)


def _plain(kind: Callable[..., Step]) -> Callable[[_Line], Step]:
    """Read a verb without words."""

    def read(line: _Line) -> Step:
        _exactly(line, 0)
        return kind(line=line.line, text=line.text)

    return read


def _unit(line: _Line) -> Step:
    act, *words = line.words or ("",)
    match _choice(act, ("wake", "off", "clip", "battery")):
        case "clip":
            return _unit_clip(line, words)
        case "battery":
            _exactly(line, 2)
            present = _choice(words[0], ("out", "in")) == "in"
            return steps.UnitBattery(line=line.line, text=line.text, present=present)
        case other:
            _exactly(line, 1)
            kind = steps.UnitWake if other == "wake" else steps.UnitOff
            return kind(line=line.line, text=line.text)


def _unit_clip(line: _Line, words: list[str]) -> Step:
    for word in words:
        _choice(word, ("reversed", "no-ground"))
        if words.count(word) > 1:
            raise _MistakeError(f"{word!r} twice", "it once")
    return steps.UnitClip(
        line=line.line,
        text=line.text,
        reversed="reversed" in words,
        ground="no-ground" not in words,
    )


def _meter(line: _Line) -> Step:
    if line.words == ("off",):
        return steps.MeterOff(line=line.line, text=line.text)
    _exactly(line, 2)
    meter, across = line.words
    if line.meters is not None:
        _choice(meter, line.meters)
    known = cast(steps.Across, _choice(across, ACROSS))
    return steps.MeterOn(line=line.line, text=line.text, meter=meter, across=known)


def _near(line: _Line) -> Step:
    _exactly(line, 1)
    lead = cast(steps.NearLead, _choice(line.words[0], NEAR))
    return steps.Near(line=line.line, text=line.text, lead=lead)


def _keys(line: _Line) -> Step:
    if not line.words:
        _exactly(line, 1)
    digits, *options = line.words
    for digit in digits:
        if digit not in KEYS and digit != PAUSE:
            raise _MistakeError(
                f"{digit!r} in {digits!r}", "keys 0-9, *, #, A-D, or a comma for a pause of 1 s"
            )
    values: dict[str, str] = {}
    for option in options:
        name, _, value = option.partition("=")
        _choice(name, ("on", "off", "level"))
        if name in values:
            raise _MistakeError(f"{name!r} twice", "it once")
        values[name] = value
    level = values.get("level")
    return steps.Keys(
        line=line.line,
        text=line.text,
        digits=digits,
        on_us=_ms_us(values.get("on")),
        off_us=_ms_us(values.get("off")),
        level_dbm=None if level is None else _number(level, *LEVELS_DBM, "level=dBm"),
    )


def _ms_us(word: str | None) -> int | None:
    """A duration of a key, in whole milliseconds [us]."""
    if word is None:
        return None
    if not word.isdecimal():
        raise _MistakeError(repr(word), f"whole milliseconds from 1 to {LONGEST_KEY_MS}")
    return round(_number(word, 1, LONGEST_KEY_MS, "milliseconds") * 1000)


def _wait(line: _Line) -> Step:
    return steps.Wait(line=line.line, text=line.text, duration_us=_seconds_us(line))


def _listen(line: _Line) -> Step:
    return steps.Listen(line=line.line, text=line.text, duration_us=_seconds_us(line))


def _note(line: _Line) -> Step:
    note = line.text.removeprefix("note").strip()
    if not note:
        raise _MistakeError("nothing after 'note'", "note TEXT")
    return steps.Note(line=line.line, text=line.text, note=note)


@dataclass(frozen=True, slots=True)
class Verb:
    """How a verb is written, and what reads its words."""

    usage: str
    read: Callable[[_Line], Step]


VERBS: dict[str, Verb] = {
    "unit": Verb("unit wake, off, clip [reversed] [no-ground], or battery out or in", _unit),
    "lift": Verb("lift, and no more", _plain(steps.Lift)),
    "restore": Verb("restore, and no more", _plain(steps.Restore)),
    "meter": Verb("meter NAME A-B (such as tip-ring), or meter off", _meter),
    "near": Verb("near short, ground, loop or clear", _near),
    "keys": Verb("keys DIGITS [on=MS off=MS level=DBM]", _keys),
    "wait": Verb("wait SECONDS", _wait),
    "listen": Verb("listen SECONDS", _listen),
    "read": Verb("read, and no more", _plain(steps.Read)),
    "zero": Verb("zero, and no more", _plain(steps.Zero)),
    "note": Verb("note TEXT", _note),
}


def _read_line(number: int, text: str, meters: Collection[str] | None) -> Step:
    verb, *words = text.split()
    _choice(verb, VERBS)
    return VERBS[verb].read(_Line(number, text, tuple(words), meters))


def parse(text: str, filename: str, meters: Collection[str] | None = None) -> tuple[Step, ...]:
    """Read the steps of a file.

    Args:
        text: the file's text.
        filename: how the file is called in messages.
        meters: the names that `meter` may use; None leaves them unchecked.

    Raises:
        BadFileError: names every mistake of the file with its line.
    """
    read: list[Step] = []
    problems: list[tuple[int, Problem]] = []
    for number, typed in enumerate(text.removeprefix("\ufeff").split("\n"), start=1):
        line = typed.strip()
        if not line or line.startswith("#"):
            continue
        try:
            read.append(_read_line(number, line, meters))
        except _MistakeError as mistake:
            problems.append((number, mistake.problem))
    if problems:
        raise bad_file(filename, problems)
    return tuple(read)
