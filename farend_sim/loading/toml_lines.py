"""The line of every key of a TOML text, found with the parser of the standard library alone.

Lines are fed to the parser until the buffer parses: that is one whole statement, and what it
parses to is the key's path.
"""

import tomllib
from collections.abc import Iterator
from typing import Any

from farend_sim.loading.key_paths import Path


def locate(text: str) -> dict[Path, int]:
    """Where each table, list item and leaf of a valid TOML text is written.

    Args:
        text: TOML that parses.

    Returns:
        The line, counted from 1, of each path. An item of a list over several lines has its own.
    """
    lines: dict[Path, int] = {(): 1}
    table: Path = ()
    counts: dict[Path, int] = {}
    for number, statement in _statements(text):
        parsed = tomllib.loads(statement)
        if statement.lstrip(" \t").startswith("["):
            twice = statement.lstrip(" \t").startswith("[[")
            table = _enter(_header(parsed), twice, counts)
            _mark(lines, table, number)
        else:
            spans = _item_lines(statement, number)
            for path in _paths(parsed, ()):
                _mark(lines, table + path, spans.get(path, number))
    return lines


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Each whole statement with the line it begins on."""
    pending: list[str] = []
    begun = 1
    # Not splitlines(): it cuts at characters that TOML allows inside a string.
    for number, line in enumerate(text.split("\n"), start=1):
        if not pending:
            begun = number
        pending.append(line.removesuffix("\r"))
        statement = "\n".join(pending)
        try:
            parsed = tomllib.loads(statement)
        except tomllib.TOMLDecodeError:
            continue
        if parsed:
            yield begun, statement
        pending = []


def _header(parsed: dict[str, Any]) -> tuple[str, ...]:
    """The names in a table's header."""
    names: list[str] = []
    inside: Any = parsed
    while inside:
        inside = inside[0] if isinstance(inside, list) else inside
        if not inside:
            break
        (name,) = inside
        names.append(name)
        inside = inside[name]
    return tuple(names)


def _enter(names: tuple[str, ...], twice: bool, counts: dict[Path, int]) -> Path:
    """The path of the table that a header opens: the newest item of each list on the way."""
    path: Path = ()
    for depth, name in enumerate(names, start=1):
        path += (name,)
        if twice and depth == len(names):
            counts[path] = counts.get(path, 0) + 1
        if path in counts:
            path += (counts[path] - 1,)
    return path


def _mark(lines: dict[Path, int], path: Path, number: int) -> None:
    """Note a path, and the tables above it that have no line yet."""
    for depth in range(len(path) + 1):
        lines.setdefault(path[:depth], number)


def _paths(value: Any, path: Path) -> Iterator[Path]:
    """A value's path and those of all within it."""
    if path:
        yield path
    if isinstance(value, dict):
        for key, inside in value.items():
            yield from _paths(inside, (*path, key))
    elif isinstance(value, list):
        for index, inside in enumerate(value):
            yield from _paths(inside, (*path, index))


def _item_lines(statement: str, begun: int) -> dict[Path, int]:
    """The lines of the items of a list that is written over several lines."""
    pending = statement.split("\n")
    lines: dict[Path, int] = {}
    is_list = False
    for count in range(1, len(pending) + 1):
        end = "\n]" if count < len(pending) else ""
        try:
            parsed = tomllib.loads("\n".join(pending[:count]) + end)
        except tomllib.TOMLDecodeError:
            continue
        is_list = is_list or count < len(pending)
        # Each item is on the line that completes it.
        for path in _paths(parsed, ()):
            if is_list and any(isinstance(part, int) for part in path):
                lines.setdefault(path, begun + count - 1)
    return lines
