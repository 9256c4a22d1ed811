"""What home lists: rooms, and what is in each. Read from the files that ship; pure otherwise.

Law: of a scenario only what the trainee is told is listed, never the note of what it shows.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from farend_sim.shipped import Kind, names, shipped
from tui.attempt_files import done_before


@dataclass(frozen=True, slots=True)
class Item:
    """Something that can be opened."""

    kind: str
    """What opens it: scenario, file, scheme, fleet, meter, drill or class."""
    name: str
    title: str
    about: str = ""
    done: str = ""
    """What came of it before, in a word or two."""


@dataclass(frozen=True, slots=True)
class RoomView:
    """One room of home."""

    title: str
    about: str
    items: tuple[Item, ...]


def rooms(class_file: Path | None = None) -> tuple[RoomView, ...]:
    """All rooms, in the order in which they are listed; the class only for who has its book."""
    return (*_rooms(), *(() if class_file is None else (_class(class_file),)))


def _class(file: Path) -> RoomView:
    about = "Trainees, their attempts, what each skill has come to, the errors made most."
    item = Item("class", str(file), f"The class book {file.name}", about)
    return RoomView("Class", "Who has done what.", (item,))


def _rooms() -> tuple[RoomView, ...]:
    return (
        RoomView("Free bench", "A pair to work on as you like.", tuple(_scenarios())),
        RoomView(
            "Drills",
            "A ticket, a hidden trouble, and marks: every act counts, and is kept.",
            tuple(_drills()),
        ),
        RoomView(
            "Scheme lab",
            "Sets of control codes, checked against all that can be keyed.",
            tuple(_shipped("scheme", "schemes")),
        ),
        RoomView(
            "Hold lab",
            "How long a hold must be: for one meter, and for a fleet of them.",
            tuple(_holds()),
        ),
    )


def _scenarios() -> Iterator[Item]:
    tables = [(name, _table("scenarios", name)) for name in names("scenarios")]
    for name, table in sorted(tables, key=lambda each: not each[1].get("first", False)):
        brief = " ".join(str(table.get("brief", "")).split())
        yield Item("scenario", name, str(table.get("title") or name), brief)
    yield Item("file", "", "a file of your own ...", "Any scenario file; you are asked for it.")


def _holds() -> Iterator[Item]:
    yield from _shipped("meter", "durations")
    yield Item("meter", "ohms", "Ohmmeter, strapped", "The shipped ohmmeter, timed on the bench.")
    yield from _shipped("fleet", "fleets")


def _drills() -> Iterator[Item]:
    tables = [(name, _table("drills", name)) for name in names("drills")]
    for name, table in sorted(tables, key=lambda each: _order(each[1])):
        told = table.get("drill", {})
        about = " ".join(str(told.get("ticket", "")).split())
        title = f"level {told.get('level', '?')}  {table.get('title') or name}"
        yield Item("drill", name, title, about, done_before(name))


def _order(table: dict[str, Any]) -> tuple[int, int]:
    told = table.get("drill", {})
    return told.get("level", 0), told.get("order", 0)


def _shipped(kind: str, folder: Kind) -> Iterator[Item]:
    for name in names(folder):
        table = _table(folder, name)
        about = " ".join(str(table.get("about", "")).split())
        yield Item(kind, name, str(table.get("title") or name), about)


def _table(kind: Kind, name: str) -> dict[str, Any]:
    return tomllib.loads(shipped(kind, name).read_text(encoding="utf-8"))
