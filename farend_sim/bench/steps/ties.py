"""The steps that tie a good neighbour to a leg of the pair at the far end, by a helper."""

from dataclasses import dataclass
from typing import cast, get_args

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.step import Row, Step, let_pass, refused
from farend_sim.bench.steps.words import Line, MistakeError, choice
from line_model.terminals import Leg

TIE_S = 60.0
"""For a helper to tie two legs [s]. Invented for the demo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie(Step):
    """Have the helper tie a good pair's legs to one of yours."""

    USAGE = "tie NAME tip or tie NAME ring: NAME a neighbour pair, then the leg it is tied to"

    neighbour: str
    leg: Leg

    @classmethod
    def read(cls, line: Line) -> Step:
        if len(line.words) < 2:
            raise MistakeError(repr(line.text), cls.USAGE)
        *name, leg = line.words
        own = cast(Leg, choice(leg, get_args(Leg)))
        return cls(line=line.line, text=line.text, neighbour=" ".join(name), leg=own)

    def act(self, bench: Bench) -> Row:
        if self.neighbour not in bench.situation.scenario.neighbours:
            return refused(no_such_neighbour(bench, self.neighbour))
        if bench.pair.unit.tied is not None:
            return refused("a pair is tied on already")
        let_pass(bench, TIE_S)
        bench.tie((self.neighbour, self.leg))
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Untie(Step):
    """Have it taken off."""

    USAGE = "untie"

    def act(self, bench: Bench) -> Row:
        if bench.pair.unit.tied is None:
            return refused("nothing is tied on")
        let_pass(bench, TIE_S)
        bench.tie(None)
        return {}


STEPS: tuple[type[Step], ...] = (Tie, Untie)


def no_such_neighbour(bench: Bench, name: str) -> str:
    """Why nothing can be done with it."""
    there = ", ".join(sorted(bench.situation.scenario.neighbours)) or "none"
    return f"no neighbour is named {name!r}; there are {there}"
