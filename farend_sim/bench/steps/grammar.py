"""The grammar of a steps file: text to steps, with every mistake of the file at once.

A line is a verb and its words. A line whose first non-blank character is `#` is a comment;
elsewhere `#` is a key or text. The words of a verb are its step's own to read.
"""

from collections.abc import Collection
from dataclasses import replace

from farend_sim.bench.pair.whereabouts import places_of
from farend_sim.bench.steps import block, book, meter, near_end, route, ties, unit
from farend_sim.bench.steps.step import Step
from farend_sim.bench.steps.words import Line, MistakeError, choice
from farend_sim.errors import Problem
from farend_sim.loading.messages import bad_file, control_character
from farend_sim.situation import Situation

STEPS = (
    *unit.STEPS,
    *unit.TRAINERS,
    *near_end.STEPS,
    *meter.STEPS,
    *book.STEPS,
    *route.STEPS,
    *route.REPAIRS,
    *block.STEPS,
    *ties.STEPS,
)
VERBS = {kind.USAGE.split()[0]: kind for kind in STEPS}
"""Every step by its verb: the first word of how it is written."""


def _printable(line: str) -> str:
    if bad := control_character(line):
        raise MistakeError(bad, "text that can be printed")
    return line


def _read(line: Line) -> Step:
    verb, *words = _printable(line.text).split()
    choice(verb, VERBS)
    return VERBS[verb].read(replace(line, words=tuple(words)))


def parse_for(situation: Situation, text: str, filename: str) -> tuple[Step, ...]:
    """Read the steps of a file for a situation: its meters and places.

    Raises:
        BadFileError: likewise.
    """
    places = places_of(situation.scenario.plant)
    return parse(text, filename, tuple(situation.meters), places)


def parse(
    text: str,
    filename: str,
    meters: Collection[str] | None = None,
    places: Collection[str] | None = None,
) -> tuple[Step, ...]:
    """Read the steps of a file.

    Args:
        text: the file's text.
        filename: how the file is called in messages.
        meters: the names that `meter` may use; None leaves them unchecked.
        places: those that `go` may use, likewise.

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
            read.append(_read(Line(at, line, (), meters, places)))
        except MistakeError as mistake:
            problems.append((at, mistake.problem))
    if problems:
        raise bad_file(filename, problems)
    return tuple(read)
