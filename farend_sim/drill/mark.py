"""A mark: what it is given for, what who loses it should do, and how it is judged."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from farend_sim.drill.story import Story

Group = Literal["safety", "identity", "trouble", "place", "quality", "economy", "proof", "record"]


@dataclass(frozen=True, slots=True)
class Judged:
    """What came of a mark: how much of it, why, and whether it alone fails the drill."""

    share: float
    why: str
    fails: bool = False


Judge = Callable[[Story], Judged | None]
"""None says that the drill does not ask for it."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark."""

    name: str
    group: Group
    points: float
    practise: str
    """What who loses it should do next."""
    judge: Judge


def mark(name: str, group: Group, points: float, practise: str) -> Callable[[Judge], Mark]:
    """Make a mark of the function that judges it."""
    return lambda judge: Mark(name, group, points, practise, judge)


def yes_or_no(is_so: bool, yes: str, no: str, *, hard: bool = False) -> Judged:
    """All of a mark, or none of it."""
    return Judged(1.0, yes) if is_so else Judged(0.0, no, fails=hard)
