"""Where the files that ship are: in an installed package, or beside the code of a checkout."""

import tomllib
from importlib.resources import files
from pathlib import Path
from typing import Literal

Kind = Literal[
    "scenarios",
    "schemes",
    "units",
    "meters",
    "durations",
    "fleets",
    "jobs",
    "populations",
    "drills",
    "curricula",
]


def folder(kind: Kind) -> Path:
    """The shipped folder of a kind of file; scenarios lie on top of the others."""
    package = Path(str(files("farend_sim")))
    # An editable install runs the checkout's code, where the files lie beside the package.
    inside = package / "scenarios"
    top = inside if inside.is_dir() else package.parent / "scenarios"
    return top if kind == "scenarios" else top / kind


def names(kind: Kind) -> tuple[str, ...]:
    """The shipped names of a kind."""
    return tuple(sorted(path.stem for path in folder(kind).glob("*.toml")))


def shipped(kind: Kind, name: str) -> Path:
    """The file of a shipped name."""
    return folder(kind) / f"{name}.toml"


def first_scenario() -> str:
    """The scenario that is marked first: a bare run plays it."""
    tables = ((name, shipped("scenarios", name).read_text("utf-8")) for name in names("scenarios"))
    return next(name for name, text in tables if tomllib.loads(text).get("first") is True)
