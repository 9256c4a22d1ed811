"""The steps in the logbook: a note, and the answer to what is wrong with the pair."""

from dataclasses import asdict, dataclass

from farend_sim.bench.answer import Answer
from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.answer_words import USAGE, read_answer
from farend_sim.bench.steps.step import Row, Step
from farend_sim.bench.steps.words import Line, MistakeError


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Step):
    """Write a note of your own."""

    USAGE = "note TEXT"

    note: str

    @classmethod
    def read(cls, line: Line) -> Step:
        note = line.text.removeprefix("note").strip()
        if not note:
            raise MistakeError("nothing after 'note'", cls.USAGE)
        return cls(line=line.line, text=line.text, note=note)

    def act(self, bench: Bench) -> Row:
        return {"note": self.note}


@dataclass(frozen=True, slots=True, kw_only=True)
class Say(Step):
    """Say what is wrong; a later answer on the same legs takes its place.

    Without an answer, what was said before is taken back.
    """

    USAGE = USAGE

    answer: Answer | None

    @classmethod
    def read(cls, line: Line) -> Step:
        return cls(line=line.line, text=line.text, answer=read_answer(line))

    def act(self, bench: Bench) -> Row:
        return {"answered": None if self.answer is None else asdict(self.answer)}


STEPS: tuple[type[Step], ...] = (Note, Say)
