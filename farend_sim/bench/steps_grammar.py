"""The grammar of a steps file: text to steps, with every mistake of the file at once.

A line is a verb and its words. A line whose first non-blank character is `#` is a comment;
elsewhere `#` is a key or text. A verb is one entry of `VERBS`: its usage and the function
that reads its words.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import cast, get_args

from farend_sim.bench import block_words, meter_words, place_words, steps
from farend_sim.bench.answer_words import USAGE as ANSWER
from farend_sim.bench.answer_words import read_answer
from farend_sim.bench.faults import FAULTS, Fault
from farend_sim.bench.step_words import Line, MistakeError, choice, number, options
from farend_sim.bench.steps import Step
from farend_sim.errors import Problem
from farend_sim.loading.messages import bad_file, control_character

KEYS = frozenset("0123456789*#ABCD")
PAUSE = ","
LONGEST_S = 86_400.0
"""A day, far longer than any hold: longer waits are slips of the finger. Invented here."""
LONGEST_KEY_MS = 60_000
"""A minute, likewise."""
LEVELS_DBM = (-80.0, 10.0)
"""The limits of a scenario's own `[keypad]`: they only catch slips. Invented here."""
NEAR = get_args(steps.NearLead)


def _exactly(line: Line, count: int) -> None:
    """Refuse too few or too many words."""
    if len(line.words) != count:
        found = repr(line.text)
        raise MistakeError(found, VERBS[line.text.split()[0]].usage)


def _seconds_us(line: Line) -> int:
    """The one word of `wait` and `listen` [us]."""
    _exactly(line, 1)
    return round(number(line.words[0], 0.0, LONGEST_S, "seconds") * 1e6)


def _plain(kind: Callable[..., Step]) -> Callable[[Line], Step]:
    """Read a verb without words."""

    def read(line: Line) -> Step:
        _exactly(line, 0)
        return kind(line=line.line, text=line.text)

    return read


def _unit(line: Line) -> Step:
    act, *words = line.words or ("",)
    match choice(act, ("wake", "off", "clip", "unclip", "battery")):
        case "clip":
            return _unit_clip(line, words)
        case "battery":
            _exactly(line, 2)
            present = choice(words[0], ("out", "in")) == "in"
            return steps.UnitBattery(line=line.line, text=line.text, present=present)
        case other:
            _exactly(line, 1)
            return _PLAIN_UNIT[other](line=line.line, text=line.text)


def _fault(line: Line) -> Step:
    _exactly(line, 2)
    fault = cast(Fault, choice(line.words[0], FAULTS))
    on = choice(line.words[1], ("on", "off")) == "on"
    return steps.UnitFault(line=line.line, text=line.text, fault=fault, on=on)


_PLAIN_UNIT: dict[str, Callable[..., Step]] = {
    "wake": steps.UnitWake,
    "off": steps.UnitOff,
    "unclip": steps.UnitUnclip,
}
"""The helper's acts that need no more words."""


def _unit_clip(line: Line, words: list[str]) -> Step:
    for word in words:
        choice(word, ("reversed", "no-ground", "tip-sheath"))
        if words.count(word) > 1:
            raise MistakeError(f"{word!r} twice", "it once")
    return steps.UnitClip(
        line=line.line,
        text=line.text,
        reversed="reversed" in words,
        ground="no-ground" not in words,
        to_sheath="tip-sheath" in words,
    )


def _near(line: Line) -> Step:
    _exactly(line, 1)
    lead = cast(steps.NearLead, choice(line.words[0], NEAR))
    return steps.Near(line=line.line, text=line.text, lead=lead)


def _keys(line: Line) -> Step:
    if not line.words:
        _exactly(line, 1)
    digits, *words = line.words
    for digit in digits:
        if digit not in KEYS and digit != PAUSE:
            raise MistakeError(
                f"{digit!r} in {digits!r}", "keys 0-9, *, #, A-D, or a comma for a pause of 1 s"
            )
    values = options(words, ("on", "off", "level"))
    level = values.get("level")
    return steps.Keys(
        line=line.line,
        text=line.text,
        digits=digits,
        on_us=_ms_us(values.get("on")),
        off_us=_ms_us(values.get("off")),
        level_dbm=None if level is None else number(level, *LEVELS_DBM, "level=dBm"),
    )


def _ms_us(word: str | None) -> int | None:
    """A duration of a key, in whole milliseconds [us]."""
    if word is None:
        return None
    if not word.isdecimal():
        raise MistakeError(repr(word), f"whole milliseconds from 1 to {LONGEST_KEY_MS}")
    return round(number(word, 1, LONGEST_KEY_MS, "milliseconds") * 1000)


def _wait(line: Line) -> Step:
    return steps.Wait(line=line.line, text=line.text, duration_us=_seconds_us(line))


def _listen(line: Line) -> Step:
    return steps.Listen(line=line.line, text=line.text, duration_us=_seconds_us(line))


def _note(line: Line) -> Step:
    note = line.text.removeprefix("note").strip()
    if not note:
        raise MistakeError("nothing after 'note'", "note TEXT")
    return steps.Note(line=line.line, text=line.text, note=note)


@dataclass(frozen=True, slots=True)
class Verb:
    """How a verb is written, and what reads its words."""

    usage: str
    read: Callable[[Line], Step]


VERBS: dict[str, Verb] = {
    "unit": Verb(
        "unit wake, off, clip [reversed] [no-ground] [tip-sheath], unclip, or battery out or in",
        _unit,
    ),
    "fault": Verb("fault NAME on or off", _fault),
    "lift": Verb("lift, and no more", _plain(steps.Lift)),
    "restore": Verb("restore, and no more", _plain(steps.Restore)),
    "meter": Verb(meter_words.METER, meter_words.read_meter),
    "near": Verb("near short, ground, loop or clear", _near),
    "keys": Verb("keys DIGITS [on=MS off=MS level=DBM]", _keys),
    "wait": Verb("wait SECONDS", _wait),
    "listen": Verb("listen SECONDS", _listen),
    "read": Verb("read, and no more", _plain(steps.Read)),
    "zero": Verb("zero, and no more", _plain(steps.Zero)),
    "note": Verb("note TEXT", _note),
    "log": Verb("log, and no more", _plain(steps.Log)),
    "answer": Verb(ANSWER, read_answer),
    "go": Verb(place_words.GO, place_words.read_go),
    "look": Verb(place_words.LOOK, place_words.read_look),
    "bond": Verb("bond, and no more", _plain(steps.Bond)),
    "open-joint": Verb("open-joint, and no more", _plain(steps.OpenJoint)),
    "join": Verb(place_words.JOIN, place_words.read_join),
    "clip": Verb(block_words.CLIP, block_words.read_clip),
    "probe": Verb(block_words.PROBE, block_words.read_probe),
    "pinch": Verb(block_words.PINCH, block_words.read_pinch),
    "tie": Verb(block_words.TIE, block_words.read_tie),
    "untie": Verb("untie, and no more", _plain(steps.Untie)),
    "repair": Verb(place_words.REPAIR, place_words.read_repair),
}


def _printable(line: str) -> str:
    if bad := control_character(line):
        raise MistakeError(bad, "text that can be printed")
    return line


def _read_line(number: int, text: str, meters: Collection[str] | None) -> Step:
    verb, *words = text.split()
    choice(verb, VERBS)
    return VERBS[verb].read(Line(number, text, tuple(words), meters))


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
    for at, typed in enumerate(text.removeprefix("\ufeff").split("\n"), start=1):
        line = typed.strip()
        if not line or line.startswith("#"):
            continue
        try:
            read.append(_read_line(at, _printable(line), meters))
        except MistakeError as mistake:
            problems.append((at, mistake.problem))
    if problems:
        raise bad_file(filename, problems)
    return tuple(read)
