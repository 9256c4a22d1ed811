"""Attempts at drills as tests play them: an author's drill, and steps from a file or typed."""

import os
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path

from farend_sim.drill.drill import Drill
from farend_sim.drill.files import find_drill
from farend_sim.drill.marks.verdict import Verdict, judge
from farend_sim.drill.work import kept
from farend_sim.drill.work.attempt import Attempt

AUTHORS = Path(__file__).parent / "authors"
NAMES = tuple(sorted(path.stem for path in AUTHORS.glob("*.toml")))


@cache
def authored(name: str) -> Drill:
    """A drill as its author wrote it."""
    return find_drill(AUTHORS / f"{name}.toml")


def steps_of(drill: Drill) -> list[str]:
    """The expert's steps."""
    return drill.sealed.expert_steps


def worked(drill: Drill, steps: Iterable[str], path: Path | None = None) -> Attempt:
    """An attempt with these steps done."""
    attempt = kept.start(drill, path)
    for step in steps:
        attempt.do(step)
    return attempt


@cache
def by_expert(name: str) -> tuple[Attempt, Verdict]:
    """The expert's own attempt at a drill and its verdict, to look at and not to go on with."""
    drill = authored(name)
    attempt = worked(drill, steps_of(drill))
    return attempt, judge(attempt)


def elsewhere(does: Callable[[], object]) -> int:
    """Begin something in another process and return its number; it never comes back into tests."""
    child = os.fork()
    if child == 0:
        try:
            does()
            os._exit(0)
        finally:
            os._exit(1)
    return child


def ended(child: int) -> int:
    """Wait for another process; 0 if all went well there."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
