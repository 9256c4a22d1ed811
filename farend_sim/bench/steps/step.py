"""What a step is: one thing done at the bench, how its words are read, and what comes of it.

Law: a step is one class, and nothing about it is written elsewhere. Its fields are what was typed;
it acts through the bench's verbs alone. What cannot be done now it refuses, with the reason.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import Any, ClassVar, Literal

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.words import Line, exactly

Row = dict[str, Any]
"""What came of a step: a row of a transcript, ready for JSON."""


def refused(why: str) -> Row:
    """What cannot be done now."""
    return {"refused": why}


def let_pass(bench: Bench, seconds: float) -> None:
    """Let the time of handwork pass."""
    bench.advance_to(bench.now_us + round(seconds * 1e6))


@dataclass(frozen=True, slots=True, kw_only=True)
class Step(ABC):
    """A line of a steps file. The first line of a step's own docstring is what `help` says."""

    USAGE: ClassVar[str]
    """How it is written: its verb first."""
    EAR: ClassVar[Literal["away", "on pair", "listening"]] = "on pair"
    """Where the ear is meanwhile; who listens is told silence too."""
    NEEDS_PAIR: ClassVar[bool] = False
    """Whether it asks for leads on a pair, where there is a block."""

    line: int
    text: str

    @classmethod
    def read(cls, line: Line) -> "Step":
        """Read the words after the verb; here, none.

        Raises:
            MistakeError: they are no such step.
        """
        exactly(line, 0, f"{cls.USAGE}, and no more")
        return cls(line=line.line, text=line.text)

    @abstractmethod
    def act(self, bench: Bench) -> Row:
        """Do it, and let the time pass that it takes; what came of it."""

    def begin(self, bench: Bench) -> Row:
        """Do it where time goes on by itself: what lasts only begins."""
        return self.act(bench)
