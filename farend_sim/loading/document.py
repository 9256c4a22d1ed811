"""A TOML file as read: its table, the line of each key, and how its faults are told."""

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from farend_sim.errors import BadFileError, Problem
from farend_sim.loading.in_metres import InMetres, to_metres
from farend_sim.loading.key_paths import Path as KeyPath
from farend_sim.loading.key_paths import path_text, value_at
from farend_sim.loading.messages import bad_file, control_character, why
from farend_sim.loading.toml_lines import locate
from farend_sim.loading.validate import shown

_AT_LINE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")


@dataclass(frozen=True, slots=True)
class Document:
    """A file whose TOML is sound."""

    filename: str
    table: dict[str, Any]
    metres: InMetres
    text: str
    """As typed: lines are looked for only when there is something to tell of them."""

    def bad(self, problems: Iterable[Problem]) -> BadFileError:
        """All of the file's faults with their lines."""
        return _bad(self.filename, self.text, problems)

    def as_typed(self, problem: Problem) -> Problem:
        """A problem of the table in metres, told of the keys and values that were typed."""
        for path, typed in self.metres.typed.items():
            if path_text(path) == problem.path:
                feet = shown(value_at(self.table, typed))
                found = f"{feet} ft, which is {problem.found.replace(',', ' m,', 1)}"
                found = found if "," in problem.found else f"{found} m"
                return Problem(path_text(typed), found, problem.expected, problem.nearest)
        return problem


def _bad(filename: str, text: str, problems: Iterable[Problem]) -> BadFileError:
    lines = {path_text(at): line for at, line in locate(text).items()}
    return bad_file(filename, ((_line(lines, each.path), each) for each in problems))


def _line(lines: dict[str, int], path: str) -> int:
    """The line of a key, or of the nearest table around it."""
    while path and path not in lines:
        path = path[: max(path.rfind("."), path.rfind("["), 0)]
    return lines.get(path, 1)


def read_text(path: Path, filename: str) -> str:
    """A file's text, told plainly when there is none.

    Raises:
        BadFileError: there is no such file, or it is not UTF-8.
    """
    try:
        return decoded(path.read_bytes(), filename)
    except OSError as error:
        expected = "leave to read" if isinstance(error, PermissionError) else "a file"
        raise bad_file(filename, [(None, Problem("", why(error), expected))]) from None


def decoded(raw: bytes, filename: str) -> str:
    """The text of bytes.

    Raises:
        BadFileError: they are not UTF-8.
    """
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        problem = Problem("", "bytes that are not UTF-8", "a text file in UTF-8")
        raise bad_file(filename, [(line, problem)]) from None


def read_document(path: Path, filename: str) -> Document:
    """Read a TOML file.

    Raises:
        BadFileError: it cannot be read, or is not TOML.
    """
    return document_of(read_text(path, filename), filename)


def document_of(text: str, filename: str) -> Document:
    """Take a file's text as TOML.

    Raises:
        BadFileError: it is not TOML.
    """
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise bad_file(filename, [_not_toml(text, str(error))]) from None
    except (RecursionError, ValueError):
        problem = Problem("", "tables too deep or numbers too long", "TOML that can be read")
        raise bad_file(filename, [(None, problem)]) from None
    if unfit := list(_unfit(table, ())):
        raise _bad(filename, text, unfit)
    return Document(filename, table, to_metres(table), text)


def _unfit(value: Any, path: KeyPath) -> Iterator[Problem]:
    """What the parser takes, and no machine word holds or no terminal should be sent."""
    if isinstance(value, dict | list):
        for key, inside in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _unfit(inside, (*path, key))
    elif isinstance(value, int) and not -(2**63) <= value < 2**63:
        yield Problem(path_text(path), "a number too long", "a whole number of 64 bits")
    elif isinstance(value, str) and (bad := control_character(value)):
        yield Problem(path_text(path), bad, "text that can be printed")


def _not_toml(text: str, words: str) -> tuple[int, Problem]:
    """What the parser says, and of which line."""
    match = _AT_LINE.search(words)
    lines = text.rstrip().split("\n")
    line = int(match[1]) if match and match[1] else len(lines)
    what = words[: match.start()] if match else words
    typed = text.split("\n")[line - 1].strip() if text.strip() else ""
    return line, Problem("", repr(typed[:60]), f"TOML; {what[:1].lower()}{what[1:]}")
