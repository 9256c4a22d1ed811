"""Attempts at drills as tests play them: an author's drill, and steps from a file or typed."""

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from farend_sim.drill import kept
from farend_sim.drill.attempt import Attempt
from farend_sim.drill.drill import Drill
from farend_sim.drill.files import find_drill

AUTHORS = Path(__file__).parent / "authors"
NAMES = tuple(sorted(path.stem for path in AUTHORS.glob("*.toml")))


@cache
def authored(name: str) -> Drill:
    """A drill as its author wrote it."""
    return find_drill(AUTHORS / f"{name}.toml")


def steps_of(drill: Drill) -> list[str]:
    """The expert's steps."""
    lines = (line.strip() for line in drill.sealed.steps.splitlines())
    return [line for line in lines if line and not line.startswith("#")]


def worked(drill: Drill, steps: Iterable[str], path: Path | None = None) -> Attempt:
    """An attempt with these steps done."""
    attempt = kept.start(drill, path)
    for step in steps:
        attempt.do(step)
    return attempt
