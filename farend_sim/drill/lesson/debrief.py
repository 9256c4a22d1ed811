"""The lesson after a drill, as data: what was done when, and what an expert would have done.

Law: text and page are made from this alone. It holds the answer: it is for after the drill.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.bench import steps as s
from farend_sim.bench.steps.came_words import came_words
from farend_sim.drill.drill import Drill
from farend_sim.drill.marks.verdict import Verdict, judge
from farend_sim.drill.solving.opinion_text import misfit_lines, ranking_lines
from farend_sim.drill.solving.second_opinion import SecondOpinion
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.done import Done
from farend_sim.drill.work.story import Story
from farend_sim.unit.table import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One thing done, as the lesson tells it."""

    start_s: float
    end_s: float
    what: str
    came: str
    kind: str
    """`keys`, `reading`, `spoiled` or `other`: how a timeline shows it."""
    far: str
    """What the unit was about when it was over."""


@dataclass(frozen=True, slots=True)
class Hold:
    """A state of the unit that ended by its timer, or by a release."""

    state: str
    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Debrief:
    """The whole lesson."""

    drill: Drill
    verdict: Verdict
    moments: tuple[Moment, ...]
    holds: tuple[Hold, ...]
    expert: tuple[Moment, ...]
    expert_words: str
    opinion: tuple[str, ...] = ()
    """What an expert would have made of the same readings."""
    who: str = ""


def debrief(attempt: Attempt, feet: bool = False) -> Debrief:
    """The lesson of an attempt, what came of its steps told in metres or in feet."""
    return Debrief(
        drill=attempt.drill,
        verdict=judge(attempt),
        moments=_moments(attempt, feet),
        holds=tuple(holds(attempt)),
        expert=_moments(expert_attempt(attempt.drill), feet),
        opinion=_opinion(attempt),
        expert_words=attempt.drill.lesson.expert.strip(),
        who=str(attempt.about.get("trainee") or ""),
    )


def _opinion(attempt: Attempt) -> tuple[str, ...]:
    """The expert's ranking, where it is of a kind with what is wrong: it does not know all."""
    opinion = SecondOpinion(Story(attempt)).opinion
    if opinion is not None and not opinion.misfit.explained:
        return tuple(misfit_lines(opinion))
    kinds = sorted(one.kind for one in attempt.drill.truth)
    if opinion is None or sorted(one.kind for one in opinion.best.answers()) != kinds:
        return ()
    doubt = attempt.drill.lesson.doubt
    doubts = doubt.wrong_gauge_percent or doubt.wrong_length_percent
    return (*ranking_lines(opinion), *(() if doubts else ("It takes the record at its word.",)))


def expert_attempt(drill: Drill) -> Attempt:
    """The expert's steps that are sealed in with a drill, played on it."""
    attempt = Attempt(drill)
    for step in drill.sealed.expert_steps:
        attempt.do(step)
    return attempt


def _moments(attempt: Attempt, feet: bool) -> tuple[Moment, ...]:
    return tuple(_moment(done, feet) for done in attempt.done)


def _moment(done: Done, feet: bool) -> Moment:
    """One thing done and what came of it, in words."""
    row = done.row
    return Moment(
        start_s=row["start_s"],
        end_s=row["t_s"],
        what=done.step.text,
        came="; ".join(_came(done, feet)),
        kind=_kind(done),
        far=row["far"]["state"],
    )


def _kind(done: Done) -> str:
    if isinstance(done.step, s.Keys):
        return "keys"
    if "settled" in done.row:
        return "reading" if done.row["settled"] else "spoiled"
    return "other"


def _came(done: Done, feet: bool) -> Iterator[str]:
    yield from came_words(done.row, feet)
    if done.row["far"].get("not_heard"):
        yield "the unit did not take: " + ", ".join(map(str, done.row["far"]["not_heard"]))


def holds(attempt: Attempt) -> Iterator[Hold]:
    """Every hold of an attempt: from what is known of the unit after each step."""
    state: State | None = None
    start_s = end_s = 0.0
    for done in attempt.done:
        far, now_s = done.after.far, done.row["t_s"]
        if state is not None and far.state is not state:
            yield Hold(state.value, start_s, min(end_s, now_s))
            state = None
        if far.deadline_us is not None:
            start_s = now_s if state is None else start_s
            state, end_s = far.state, far.deadline_us / 1e6
    if state is not None:
        yield Hold(state.value, start_s, min(end_s, attempt.snapshot.now_us / 1e6))
