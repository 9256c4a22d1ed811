"""Drills from files: an author's, a sealed one, or the name of one that ships."""

from pathlib import Path
from typing import Any, cast

from farend_sim import shipped
from farend_sim.drill.drill import Drill, DrillFile
from farend_sim.drill.seal import BrokenSealError, Sealed, deciphered, seal
from farend_sim.errors import Problem, unknown
from farend_sim.files import is_path, situation_of
from farend_sim.loading.document import document_of, read_text
from farend_sim.loading.messages import bad_file
from farend_sim.loading.toml_text import table_of

SHOWN = ("level", "order", "ticket", "record", "budget_s")
"""What of `[drill]` a trainee is told; skills, experts and practice tell of the trouble."""


def find_drill(name_or_path: str | Path) -> Drill:
    """Read a drill: a file, or the name of a shipped one.

    Raises:
        BadFileError: there is none, or it has faults; names all of them.
    """
    path = _path(name_or_path)
    filename = str(path) if isinstance(name_or_path, Path) else str(name_or_path)
    text = read_text(path, filename)
    document = document_of(text, filename)
    sealed = document.table.get("sealed")
    if sealed is None:
        beside = path.with_suffix(".steps")
        steps = read_text(beside, str(beside)) if beside.is_file() else ""
        return drill_of(Sealed(text, steps), path.stem, path.parent)
    try:
        inside = deciphered(str(sealed["text"]))
    except (BrokenSealError, KeyError, TypeError):
        problem = Problem("sealed.text", "a broken seal", "the text as it was sealed, whole")
        raise document.bad([problem]) from None
    return drill_of(inside, path.stem, path.parent)


def drill_of(sealed: Sealed, name: str, folder: Path = Path()) -> Drill:
    """The drill that an author's text says; `folder` is where its own schemes and meters lie.

    Raises:
        BadFileError: the text has faults; names all of them.
    """
    document = document_of(sealed.source, f"{name}.toml")
    situation = situation_of(document, folder / f"{name}.toml", DrillFile)
    lesson = cast(DrillFile, situation.scenario).drill
    return Drill(name=name, lesson=lesson, situation=situation, sealed=sealed)


def sealed_text(drill: Drill) -> str:
    """A drill as the file that a trainee is given."""
    return seal(drill.sealed, clear(drill))


def clear(drill: Drill) -> dict[str, Any]:
    """What a trainee is told of a drill: ticket, plant record, meters."""
    scenario = drill.situation.scenario
    lesson, block = table_of(drill.lesson), scenario.block
    return {
        "title": drill.title,
        **({"brief": scenario.brief} if scenario.brief else {}),
        "meters": list(drill.meters),
        "drill": {key: lesson[key] for key in SHOWN if key in lesson},
        "record": table_of(scenario.recorded),
        **({} if block is None else {"block": {"posts": block.posts, "post": block.recorded}}),
    }


def _path(name_or_path: str | Path) -> Path:
    name = str(name_or_path)
    if isinstance(name_or_path, Path) or is_path(name) or Path(name).is_file():
        return Path(name_or_path)
    known = shipped.names("drills")
    if name not in known:
        expected = "a file, or a drill of `farend-sim drill list`"
        raise bad_file(name, [(None, unknown("", name, known, expected))])
    return shipped.shipped("drills", name)
