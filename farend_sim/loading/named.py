"""Names to files: a shipped name, or a path; and how a file is called in messages.

Law: a path inside a file may not leave that file's folder; a person may name a file anywhere.
"""

from pathlib import Path

from farend_sim import shipped
from farend_sim.errors import Problem, unknown
from farend_sim.loading.messages import bad_file


def is_path(name: str) -> bool:
    """Whether a name in a file is a path, and not a shipped name."""
    return "/" in name or name.endswith(".toml")


def as_typed(name_or_path: str) -> tuple[str, Path]:
    """A name for the loaders and its folder: a person may name a file anywhere."""
    path = Path(name_or_path)
    if is_path(name_or_path) or path.is_file():
        if not path.is_file():
            what = "a folder" if path.is_dir() else "no such file"
            raise bad_file(name_or_path, [(None, Problem("", what, "a file"))])
        return f"./{path.name}", path.parent
    return name_or_path, Path()


def file_of(kind: shipped.Kind, name: str, folder: Path, key: str) -> Path | Problem:
    """The file of a name, or what is wrong with the name."""
    if not is_path(name):
        ships = name in shipped.names(kind)
        return shipped.shipped(kind, name) if ships else not_shipped(key, kind, name)
    top, path = folder.resolve(), (folder / name).resolve()
    if not path.is_relative_to(top):
        return Problem(key, f"{name!r}, which leaves the folder", "a path inside its folder")
    if not path.is_file():
        what = "a folder" if path.is_dir() else "no such file"
        return Problem(key, f"{name!r}, {what}", "a file")
    return folder / name


def not_shipped(key: str, kind: shipped.Kind, name: str) -> Problem:
    """What is wrong with a name that does not ship."""
    known = shipped.names(kind)
    return unknown(key, name, known, f"a path or one of {', '.join(known)}")


def called(path: Path) -> str:
    """How a file is called in messages: a shipped one by its name alone."""
    top = shipped.folder("scenarios")
    return f"{path.relative_to(top)}" if path.is_relative_to(top) else str(path)
