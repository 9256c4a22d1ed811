"""Every moment that can come about, with the shortest way there.

Law: breadth first, so that what is found first is a shortest counterexample.
"""

from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from farend_sim.scheme_lab.check.model import START, Done, Model, Moment

Way = tuple[str, ...]
"""Keys and timers, in order."""


@dataclass(frozen=True, slots=True)
class Explored:
    """What can come about, and how."""

    came: dict[Moment, tuple[Moment, str] | None]
    """Each moment with the one before it, in the order in which they were found."""
    done: dict[Moment, tuple[Done, ...]]

    def way(self, to: Moment, last: str = "") -> Way:
        """The shortest way to a moment, and one symbol more."""
        symbols = [last] if last else []
        at: Moment = to
        while (step := self.came[at]) is not None:
            at, symbol = step
            symbols.append(symbol)
        return tuple(reversed(symbols))

    def steps(self) -> Iterator[tuple[Moment, Done]]:
        """Every step from every moment."""
        for at, steps in self.done.items():
            for step in steps:
                yield at, step

    def first(self, wanted: Callable[[Moment, Done], bool]) -> Way | None:
        """The shortest way that ends in such a step; None where there is none."""
        for at, step in self.steps():
            if wanted(at, step):
                return self.way(at, step.symbol)
        return None


def explore(model: Model, *, by_hand: bool = True) -> Explored:
    """Go everywhere."""
    came: dict[Moment, tuple[Moment, str] | None] = {START: None}
    done: dict[Moment, tuple[Done, ...]] = {}
    ahead = deque([START])
    while ahead:
        at = ahead.popleft()
        done[at] = tuple(model.steps(at, by_hand=by_hand))
        for step in done[at]:
            if step.to not in came:
                came[step.to] = at, step.symbol
                ahead.append(step.to)
    return Explored(came, done)
