"""A table written as TOML, and a dataclass as the least table that reads back as itself.

What is at its default is left out. No library here writes TOML; files need no more than this.
"""

import json
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from typing import Any

Table = dict[str, Any]


def table_of(thing: Any) -> Table:
    """A dataclass as a table, without what is None or at its default."""
    return {
        each.name: _plain(value)
        for each in fields(thing)
        if (value := getattr(thing, each.name)) is not None and value != _default(each)
    }


def _default(each: "Field[Any]") -> Any:
    if each.default_factory is not MISSING:
        return each.default_factory()
    return each.default


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return table_of(value)
    return [_plain(item) for item in value] if isinstance(value, tuple | list) else value


def toml_text(table: Mapping[str, Any]) -> str:
    """A table as TOML, its plain keys before its tables."""
    return "\n".join(_lines(table, "")).strip() + "\n"


def _lines(table: Mapping[str, Any], path: str) -> Iterator[str]:
    for key, value in table.items():
        if not _is_table(value):
            yield f"{key} = {_value(value)}"
    for key, value in table.items():
        if not _is_table(value):
            continue
        inside = f"{path}.{key}" if path else key
        for each in value if isinstance(value, list) else [value]:
            yield ""
            yield f"[[{inside}]]" if isinstance(value, list) else f"[{inside}]"
            yield from _lines(each, inside)


def _is_table(value: object) -> bool:
    is_list = isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
    return isinstance(value, dict) or is_list


def _value(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str() if "\n" in value:
            escaped = value.replace("\\", "\\\\").replace('"""', '\\"\\"\\"')
            return f'"""\n{escaped}"""'
        case str():
            return json.dumps(value, ensure_ascii=False)
        case list():
            return "[" + ", ".join(map(_value, value)) + "]"
        case dict():
            return "{ " + ", ".join(f"{key} = {_value(v)}" for key, v in value.items()) + " }"
        case float():
            return repr(value)
        case _:
            return str(value)
