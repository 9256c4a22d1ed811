"""A table of a file into frozen dataclasses, or all of its faults in plain words.

Law: dataclasses are the only definition of a thing; this file reads them and defines none.
"""

import json
import math
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Generic, Literal, TypeVar, cast, get_args, get_origin

from pydantic import ConfigDict, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from farend_sim.errors import Problem, nearest
from farend_sim.loading.in_metres import InMetres
from farend_sim.loading.key_paths import Path, along, bare, keys_of, members, path_text, value_at
from line_model.constants import FOOT_M

T = TypeVar("T")
Remark = Callable[[str, object, Mapping[str, Any]], str | None]
"""Given a key's path, its value and the table it stands in: what that means, if it needs saying."""

STRICT = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False)

EXPECTED = {
    "bool_type": "true or false",
    "dataclass_type": "a table",
    "dict_type": "a table",
    "finite_number": "a finite number",
    "float_type": "a number",
    "int_from_float": "a whole number",
    "int_parsing_size": "a smaller whole number",
    "int_type": "a whole number",
    "list_type": "a list",
    "string_type": "text",
    "tuple_type": "a list",
    "greater_than": "more than {gt:g}",
    "greater_than_equal": "{ge:g} or more",
    "less_than": "less than {lt:g}",
    "less_than_equal": "{le:g} or less",
    "literal_error": "{expected}",
    "too_short": "{min_length} or more of them",
    "too_long": "{max_length} of them at most",
    "string_too_short": "text of {min_length} or more",
    "string_too_long": "text of {max_length} at most",
    "string_pattern_mismatch": "text like {pattern}",
    "union_tag_invalid": "one of {expected_tags}",
    "value_error": "{error}",
}
"""What a validator's word means to a person."""


@dataclass(frozen=True, slots=True)
class Fault:
    """A problem with its path in the table that was validated."""

    path: Path
    problem: Problem
    is_unknown_key: bool


@dataclass(frozen=True, slots=True)
class Validated(Generic[T]):
    """The thing, or why it is none."""

    thing: T | None
    faults: tuple[Fault, ...] = ()


def validate(
    kind: type[T], read: InMetres, source: dict[str, Any], remark: Remark | None = None
) -> Validated[T]:
    """Check a table against a dataclass.

    Args:
        kind: the dataclass, or an annotated union of them.
        read: the table with its places in metres.
        source: the table as typed.
        remark: says more about a value out of its range.
    """
    adapter: TypeAdapter[list[T]] = _adapter(cast(Hashable, kind))
    try:
        return Validated(adapter.validate_json(json.dumps([read.table], default=_no_date))[0])
    except ValidationError as error:
        details = _without_echoes(error.errors(include_url=False))
        return Validated(None, tuple(_fault(kind, each, read, source, remark) for each in details))


@lru_cache
def _adapter(kind: Hashable) -> TypeAdapter[list[Any]]:
    """What checks a kind: made once, which takes longer than to check with it."""
    # A list around it: a bare dataclass cannot be given a configuration from outside. The checker
    # takes no variable for a type.
    return TypeAdapter(list[kind], config=STRICT)  # type: ignore[valid-type]


def _without_echoes(details: list[ErrorDetails]) -> list[ErrorDetails]:
    """Leave out that a list is too short where it only is for its faulty items."""
    return [
        each
        for each in details
        if each["type"] != "too_short"
        or not any(
            other is not each and other["loc"][: len(each["loc"])] == each["loc"]
            for other in details
        )
    ]


def _no_date(value: object) -> object:
    """A date is neither text nor a number: as a table it is refused wherever it stands."""
    return {"date": str(value)}


def _fault(
    kind: Any, error: ErrorDetails, read: InMetres, source: dict[str, Any], remark: Remark | None
) -> Fault:
    """One of the validator's complaints in our own words."""
    steps = list(along(kind, error["loc"][1:]))
    path = tuple(part for part, _, _ in steps)
    holder, leaf = (steps[-1][1], steps[-1][2]) if steps else (kind, kind)
    word = error["type"]
    if word.startswith("union_tag"):
        path, holder, leaf = (*path, "kind"), leaf, str
    typed = typed_path(read, path)
    expected, meant = _expected(error, typed, holder, leaf)
    found = "an unknown key" if _is_unknown(word) else _found(source, typed)
    value, beside = value_at(source, typed), value_at(source, typed[:-1])
    more = remark(path_text(typed), value, beside) if remark and isinstance(beside, dict) else None
    found = f"{found} ({more})" if more else found
    problem = Problem(path_text(typed), found, expected, meant)
    return Fault(path, problem, _is_unknown(word))


def typed_path(read: InMetres, path: Path) -> Path:
    """A path as the file has it: `_ft` where feet were typed."""
    for depth in range(len(path), 0, -1):
        if path[:depth] in read.typed:
            return read.typed[path[:depth]] + path[depth:]
    return path


def _is_unknown(word: str) -> bool:
    return word in ("unexpected_keyword_argument", "extra_forbidden")


def _expected(error: ErrorDetails, typed: Path, holder: Any, leaf: Any) -> tuple[str, str | None]:
    """What should have stood there, and the nearest known word."""
    word, name = error["type"], str(typed[-1]) if typed else ""
    if _is_unknown(word):
        known = _as_typed(keys_of(holder), name)
        return "one of " + ", ".join(known), nearest(name, known)
    if word == "missing":
        return f"{_described(leaf)} (it is required)", None
    if word == "union_tag_not_found":
        return "one of " + ", ".join(members(holder)) + " (it is required)", None
    if word == "union_tag_invalid":
        known = tuple(members(holder))
        return "one of " + ", ".join(known), nearest(str(error["ctx"]["tag"]), known)
    template = EXPECTED.get(word, error["msg"][:1].lower() + error["msg"][1:].replace("{", "{{"))
    limits = error.get("ctx", {})
    if name.endswith("_ft"):
        limits = {key: _feet(value) for key, value in limits.items()}
    expected = template.format(**limits)
    choices = str(limits.get("expected", "")).replace(" or ", ", ").replace("'", "").split(", ")
    return expected, nearest(str(error["input"]), choices)


def _feet(limit: Any) -> Any:
    return limit / FOOT_M if isinstance(limit, int | float) else limit


def _as_typed(known: tuple[str, ...], typed: str) -> tuple[str, ...]:
    """The known keys, in feet for somebody who writes feet."""
    if not typed.endswith("_ft"):
        return known
    return tuple(key.removesuffix("_m") + "_ft" if key.endswith("_m") else key for key in known)


def _described(kind: Any) -> str:
    """What a type is called by people."""
    kind = bare(kind)
    names = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}
    if kind in names:
        return names[kind]
    if get_origin(kind) in (tuple, list):
        return "a list"
    if get_origin(kind) is Literal:
        words = ", ".join(map(str, get_args(kind)))
        return words if len(get_args(kind)) == 1 else f"one of {words}"
    return "a table" if keys_of(kind) or members(kind) else "a value"


def _found(table: Any, path: Path) -> str:
    """What stands at a path, as people write it."""
    value = value_at(table, path)
    return "nothing" if value is None else shown(value)


def shown(value: object) -> str:
    """A value as people write it in a file."""
    match value:
        case bool():
            return "true" if value else "false"
        case float() if math.isnan(value):
            return "nan"
        case float():
            return f"{value:.9g}"
        case dict():
            return "a table"
        case list() if len(value) > 4 or any(isinstance(item, dict | list) for item in value):
            return f"a list of {len(value)}"
        case list():
            return "[" + ", ".join(shown(item) for item in value) + "]"
        case str():
            return repr(value if len(value) <= 60 else value[:57] + "...")
        case _:
            return str(value)[:60]
