"""The lab's own TOML files to dataclasses, with the messages of all other files."""

from collections.abc import Callable
from difflib import get_close_matches
from pathlib import Path
from typing import TypeVar

from farend_sim import shipped
from farend_sim.errors import Problem
from farend_sim.files import is_path
from farend_sim.loading.document import read_document
from farend_sim.loading.messages import bad_file
from farend_sim.loading.validate import validate

T = TypeVar("T")


def load_lab(
    kind: type[T],
    folder: shipped.Kind,
    name: str,
    problems: Callable[[T], tuple[Problem, ...]] = lambda thing: (),
) -> T:
    """Read a file, or a shipped one by its name.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    document = read_document(_path(folder, name), name)
    validated = validate(kind, document.metres, document.table)
    between = () if validated.thing is None else problems(validated.thing)
    told = (*document.metres.problems, *(each.problem for each in validated.faults), *between)
    if validated.thing is None or told:
        raise document.bad(told)
    return validated.thing


def _path(folder: shipped.Kind, name: str) -> Path:
    if is_path(name) or Path(name).is_file():
        return Path(name)
    known = shipped.names(folder)
    if name in known:
        return shipped.shipped(folder, name)
    nearest = get_close_matches(name, known, n=1)
    expected = f"a file or one of {', '.join(known)}"
    problem = Problem("", "no such file", expected, nearest[0] if nearest else None)
    raise bad_file(name, [(None, problem)])
