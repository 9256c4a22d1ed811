"""A key's path in a file as a person reads it, and the types that stand along it."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

Path = tuple[str | int, ...]

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def path_text(path: Path) -> str:
    """A path as text: `plant.section[1].length_m`, counted from 0."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part}]"
        else:
            name = part if _BARE.fullmatch(part) else f'"{part}"'
            text += f".{name}" if text else name
    return text


def value_at(table: Any, path: Path) -> Any:
    """What a table holds at a path; None where there is nothing."""
    for part in path:
        try:
            table = table[part]
        except (KeyError, IndexError, TypeError):
            return None
    return table


def bare(kind: Any) -> Any:
    """A type without its limits and without None."""
    while get_origin(kind) is Annotated:
        kind = get_args(kind)[0]
    if get_origin(kind) in (Union, UnionType):
        members = [member for member in get_args(kind) if member is not NoneType]
        if len(members) == 1:
            return bare(members[0])
    return kind


def members(kind: Any) -> dict[str, Any]:
    """The dataclasses of a union by the words of their `kind` key; empty for other types."""
    kind = bare(kind)
    if get_origin(kind) not in (Union, UnionType):
        return {}
    tagged: dict[str, Any] = {}
    for member in map(bare, get_args(kind)):
        hints = get_type_hints(member) if is_dataclass(member) else {}
        if get_origin(hints.get("kind")) is Literal:
            tagged |= dict.fromkeys(get_args(hints["kind"]), member)
    return tagged


def keys_of(kind: Any) -> tuple[str, ...]:
    """The known keys of a table's type."""
    kind = bare(kind)
    return tuple(field.name for field in fields(kind) if field.init) if is_dataclass(kind) else ()


def inside(kind: Any, part: str | int) -> Any:
    """The type of what a type holds under a key or an index; Any where none can be told."""
    kind = bare(kind)
    if is_dataclass(kind):
        hints = get_type_hints(kind, include_extras=True)
        return hints.get(str(part), Any)
    arguments = get_args(kind)
    if get_origin(kind) in (tuple, list) and isinstance(part, int):
        return arguments[0] if Ellipsis in arguments else arguments[min(part, len(arguments) - 1)]
    return arguments[1] if get_origin(kind) is dict else Any


def along(kind: Any, loc: Path) -> Iterator[tuple[str | int, Any, Any]]:
    """Each step of a validator's location: its part, and the types it stands in and leads to.

    The words by which a union was told apart are no part of the path and are left out.
    """
    for part in loc:
        if tagged := members(kind):
            kind = tagged.get(str(part), Any)
        elif part != "[key]":
            holder, kind = kind, inside(kind, part)
            yield part, holder, kind
