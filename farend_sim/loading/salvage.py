"""What of a faulty table can still be checked, so that all of its faults are told at once.

Faulty keys are left out, and faulty items of a list as a whole. Where the sections of the plant
themselves are faulty nothing is left: no place on the route could be judged. Where the record is,
or an access point that it may name, the record is left out.
"""

import re
from copy import deepcopy
from typing import Any

from farend_sim.errors import Problem
from farend_sim.loading.key_paths import Path, value_at
from farend_sim.loading.validate import Fault

_SECTION: Path = ("plant", "section")
_SPOILS_RECORD: tuple[Path, ...] = (("record",), ("plant", "access"))


def salvage(table: dict[str, Any], faults: tuple[Fault, ...]) -> dict[str, Any] | None:
    """A copy of a table without what is faulty; an item that is left out becomes None."""
    rest = deepcopy(table)
    for fault in sorted(faults, key=lambda fault: len(fault.path), reverse=True):
        if not fault.is_unknown_key and fault.path[:2] in (_SECTION, _SECTION[:1]):
            return None
        holder, key = _cut(fault)
        inside = value_at(rest, holder)
        if isinstance(inside, dict):
            inside.pop(key, None)
        elif isinstance(inside, list) and isinstance(key, int) and key < len(inside):
            inside[key] = None
    if any(not each.is_unknown_key and _in(each.path, _SPOILS_RECORD) for each in faults):
        rest.pop("record", None)
    return rest


def _in(path: Path, tops: tuple[Path, ...]) -> bool:
    return any(path[: len(top)] == top for top in tops)


def _cut(fault: Fault) -> tuple[Path, str | int]:
    """Where to cut: the key itself if it is unknown, else the first list item around it."""
    items = [depth for depth, part in enumerate(fault.path) if isinstance(part, int)]
    depth = len(fault.path) - 1 if fault.is_unknown_key or not items else items[0]
    return fault.path[:depth], fault.path[depth]


def closed_up(value: Any) -> Any:
    """A salvaged table with its lists closed up over the items that were left out."""
    if isinstance(value, dict):
        return {key: closed_up(inside) for key, inside in value.items()}
    if isinstance(value, list):
        return [closed_up(item) for item in value if item is not None]
    return value


def as_numbered(problem: Problem, salvaged: dict[str, Any]) -> Problem:
    """A problem of a closed-up table under the number its list item has in the file."""
    match = re.match(r"([a-z.]+)\[(\d+)\]", problem.path)
    if not match:
        return problem
    items = value_at(salvaged, tuple(match[1].split(".")))
    numbers = [number for number, item in enumerate(items) if item is not None]
    path = f"{match[1]}[{numbers[int(match[2])]}]{problem.path[match.end() :]}"
    return Problem(path, problem.found, problem.expected, problem.nearest)
