"""Feet at the border: any key `..._ft` is taken for its `..._m`, converted."""

from dataclasses import dataclass, field
from typing import Any

from farend_sim.errors import Problem
from farend_sim.loading.key_paths import Path, path_text
from line_model.constants import FOOT_M


@dataclass(slots=True)
class InMetres:
    """A table whose places are metres, and what was typed where it was feet."""

    table: Any
    typed: dict[Path, Path] = field(default_factory=dict)
    """The path in metres, and the path as typed."""
    problems: list[Problem] = field(default_factory=list)


def to_metres(table: dict[str, Any]) -> InMetres:
    """A copy of a table with every `_ft` key as `_m`."""
    result = InMetres(None)
    result.table = _converted(table, (), (), result)
    return result


def _converted(value: Any, path: Path, typed: Path, result: InMetres) -> Any:
    if path != typed:
        result.typed[path] = typed
    if isinstance(value, list):
        return [
            _converted(item, (*path, index), (*typed, index), result)
            for index, item in enumerate(value)
        ]
    if not isinstance(value, dict):
        return value
    table: dict[str, Any] = {}
    for key, inside in value.items():
        name = _metres(key)
        if name != key and name in value:
            found = f"both {name} and {key}"
            result.problems.append(Problem(path_text((*typed, key)), found, "one of the two"))
            continue
        converted = _converted(inside, (*path, name), (*typed, key), result)
        is_number = isinstance(converted, int | float) and not isinstance(converted, bool)
        # rounded, so that 3000 ft and 914.4 m are one place
        table[name] = round(converted * FOOT_M, 9) if name != key and is_number else converted
    return table


def _metres(key: str) -> str:
    return key.removesuffix("_ft") + "_m" if key.endswith("_ft") else key
