"""A mark: what it is given for, what who loses it should do, and how it is judged."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

from farend_sim.drill.work.done import Done
from farend_sim.drill.work.story import Story

Group = Literal["safety", "identity", "trouble", "place", "quality", "economy", "proof", "record"]


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake: when it was made, and what it was."""

    t_s: float | None
    text: str

    @property
    def said(self) -> str:
        """The time, where there is one, and the mistake."""
        return self.text if self.t_s is None else f"{self.t_s:.0f} s: {self.text}"


def mistake(done: Done, text: str) -> Mistake:
    """A mistake in something done."""
    return Mistake(done.row["start_s"], text)


@dataclass(frozen=True, slots=True)
class Judged:
    """What came of a mark: how much of it, why, and whether it alone fails the drill."""

    share: float
    why: str
    fails: bool = False
    mistakes: tuple[Mistake, ...] = ()
    """What lost it, for the lesson."""


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


def free_of(mistakes: Iterable[Mistake], yes: str, no: str, *, hard: bool = False) -> Judged:
    """All of a mark where none of its mistakes was made, else none of it."""
    made = tuple(mistakes)
    return Judged(0.0, no, hard, made) if made else Judged(1.0, yes)
