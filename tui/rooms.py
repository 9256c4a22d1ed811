"""What home lists: rooms, and what is in each. Read from the files that ship; pure otherwise.

Law: of a scenario only what the trainee is told is listed, never the note of what it shows.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from farend_sim.shipped import Kind, names, shipped
from tui.new_drills import made_before
from tui.person.attempt_files import done_before


@dataclass(frozen=True, slots=True)
class Item:
    """Something that can be opened."""

    kind: str
    """What opens it: scenario, file, scheme, fleet, meter, drill, new (a drill) or class."""
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


def rooms(
    class_file: Path | None = None, *, titles: bool = False, trainee: str | None = None
) -> tuple[RoomView, ...]:
    """All rooms, in the order in which they are listed.

    Args:
        class_file: the class book, for who has it.
        titles: list scenarios by what they show, which a trainee is not told.
        trainee: who works here, and whose drills are marked as done.
    """
    return (*_rooms(titles, trainee), *(() if class_file is None else (_class(class_file),)))


def _class(file: Path) -> RoomView:
    about = "Trainees, their attempts, what each skill has come to, the errors made most."
    item = Item("class", str(file), f"The class book {file.name}", about)
    return RoomView("Class", "Who has done what.", (item,))


def _rooms(titles: bool, trainee: str | None) -> tuple[RoomView, ...]:
    return (
        RoomView("Free bench", "A pair to work on as you like.", tuple(_scenarios(titles))),
        RoomView(
            "Drills",
            "A ticket, a hidden trouble, and marks: every act counts, and is kept.",
            tuple(_drills(trainee)),
        ),
        RoomView(
            "New drills",
            "Made for you, each proved to be solvable: nobody has seen it before.",
            (*_levels(), *_made(trainee)),
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


def _scenarios(titles: bool) -> Iterator[Item]:
    tables = [(name, _table("scenarios", name)) for name in names("scenarios")]
    for name, table in sorted(tables, key=lambda each: not each[1].get("first", False)):
        brief = " ".join(str(table.get("brief", "")).split())
        # the title tells what is wrong; a technician is told of a pair
        pair = brief.partition(". ")[0].rstrip(".")
        title = str(table.get("title") or name)
        yield Item("scenario", name, title if titles else pair or title, brief)
    yield Item("file", "", "a file of your own ...", "Any scenario file; you are asked for it.")


def _holds() -> Iterator[Item]:
    for meter in _shipped("meter", "meters"):
        yield Item("meter", meter.name, meter.title, "Strapped, and timed on the bench.")
    yield from _shipped("meter", "durations")
    yield from _shipped("fleet", "fleets")


def _drills(trainee: str | None) -> Iterator[Item]:
    tables = [(name, _table("drills", name)) for name in names("drills")]
    for name, table in sorted(tables, key=lambda each: _order(each[1])):
        yield _drill(name, table, done_before(name, trainee))


def _levels() -> Iterator[Item]:
    """A new drill of each level: made when it is opened."""
    for level in _table("curricula", "reference")["level"]:
        number = str(level["level"])
        yield Item("new", number, f"level {number}  a new one", str(level["teaches"]))


def _made(trainee: str | None) -> Iterator[Item]:
    """Those that were made; a file that is none of them any more is left out."""
    for path in made_before():
        try:
            table = tomllib.loads(path.read_text(encoding="utf-8"))
            yield _drill(str(path), table, done_before(path.stem, trainee))
        except (OSError, ValueError, AttributeError):
            continue


def _drill(name: str, table: dict[str, Any], done: str) -> Item:
    told = table.get("drill", {})
    about = " ".join(str(told.get("ticket", "")).split())
    title = f"level {told.get('level', '?')}  {table.get('title') or Path(name).stem}"
    return Item("drill", name, title, about, done)


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
