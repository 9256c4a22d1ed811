"""Drills made for one person: sealed files in the data folder, and what makes them."""

import secrets
from collections.abc import Iterator
from pathlib import Path

from farend_sim.errors import BadFileError
from tui.person.data_folder import data_folder

MAKING = (
    "A pair is drawn, and the expert works on it until one is found that can be solved and not "
    "guessed. It takes some seconds, and is kept among the new drills."
)
"""What is said meanwhile."""


def folder() -> Path:
    """Where they lie; it may not be there yet."""
    return data_folder() / "drills"


def made_before() -> Iterator[Path]:
    """The files of those that were made, the latest first."""
    files = folder().glob("*.toml")
    yield from sorted(files, key=lambda path: (-path.stat().st_mtime, path.name))


def make(level: int) -> Path:
    """Make a drill of a level that nobody has seen, and seal it into a file; it takes seconds.

    Raises:
        BadFileError: no fair drill was found, or the folder cannot be written to.
    """
    from farend_sim.drill.files import sealed_text
    from farend_sim.drill.making.curriculum import find_curriculum
    from farend_sim.drill.making.generate import new_drill

    curriculum = find_curriculum("reference")
    drill = new_drill(curriculum, level, secrets.randbelow(2**31)).drill
    path = folder() / f"{drill.name}.toml"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(sealed_text(drill), encoding="utf-8")
    except OSError as error:
        raise BadFileError(f"{path}: found {error.strerror}, expected to write there") from None
    return path
