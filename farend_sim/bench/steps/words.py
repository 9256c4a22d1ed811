"""What reading the words of a step is made of: a line taken apart, choices, numbers, options."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from farend_sim.errors import Problem, nearest


class MistakeError(Exception):
    """One thing wrong with a line."""

    def __init__(self, found: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(found)
        self.problem = Problem(path="", found=found, expected=expected, nearest=nearest)


@dataclass(frozen=True, slots=True)
class Line:
    """A line taken apart: its number, its text, and the words after the verb."""

    line: int
    text: str
    words: tuple[str, ...]
    meters: Collection[str] | None = None
    """The meters there are; None leaves their names unchecked."""
    places: Collection[str] | None = None
    """Likewise the places."""


LONGEST_M = 1e6
"""Longer than any pair: it only catches slips. Invented here."""


def exactly(line: Line, count: int, usage: str) -> None:
    """Refuse too few or too many words."""
    if len(line.words) != count:
        raise MistakeError(repr(line.text), usage)


def choice(word: str, known: Collection[str]) -> str:
    """The word, if it is known.

    Raises:
        MistakeError: it is not; says which are, and the nearest.
    """
    if word in known:
        return word
    found = repr(word) if word else "nothing"
    raise MistakeError(found, "one of " + ", ".join(known), nearest(word, known))


def number(word: str, least: float, most: float, unit: str) -> float:
    """A finite number within limits, or a mistake that names them."""
    expected = f"{unit} from {least:g} to {most:g}"
    try:
        value = float(word)
    except ValueError:
        raise MistakeError(repr(word), expected) from None
    if not (math.isfinite(value) and least <= value <= most) or "_" in word:
        raise MistakeError(repr(word), expected)
    return value


def options(words: Sequence[str], known: Collection[str]) -> dict[str, str]:
    """Words of the form name=value, each name known and there once."""
    values: dict[str, str] = {}
    for word in words:
        name, _, value = word.partition("=")
        choice(name, known)
        if name in values:
            raise MistakeError(f"{name!r} twice", "it once")
        values[name] = value
    return values
