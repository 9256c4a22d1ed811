"""The verdict on an attempt: its marks, what failed it, its errors, and truth beside belief.

Law: a good answer does not make up for what could have hurt somebody, nor for readings that do not
show it. Such marks fail the drill by themselves, whatever the sum is.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.bench.answer import Answer
from farend_sim.drill.marks.mark import Group, Judged, Mark, Mistake
from farend_sim.drill.marks.mistakes import mistakes_of
from farend_sim.drill.marks.rubric import MARKS, WEIGHTS
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.story import Story

PASS_PERCENT = 85.0
"""A pass: who has a place wrong, or several habits bad, does not. Invented here."""
HINT_COSTS = 3.0
"""Of a hundred, for each hint. Invented here."""

LOST = 0.5
"""Fewer points than this are not worth a word. Invented here."""


@dataclass(frozen=True, slots=True)
class Given:
    """A mark as it was given: points of those that this drill asks."""

    name: str
    group: Group
    points: float
    most: float
    why: str
    fails: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What a trainee is told of an attempt."""

    drill: str
    title: str
    passed: bool
    score: float
    """Of a hundred."""
    given: tuple[Given, ...]
    not_asked: tuple[str, ...]
    """Groups and marks that this drill cannot ask; the others are scaled up."""
    failed_by: tuple[str, ...]
    mistakes: tuple[Mistake, ...]
    truth: tuple[Answer, ...]
    answers: tuple[Answer, ...]
    took_s: float
    budget_s: float
    hints: int
    skills: tuple[str, ...]
    practise: tuple[str, ...]
    """For each mark that was lost, the dearest first: what to do next time."""
    practice: str
    """The author's word of what comes next, for who has passed."""


def judge(attempt: Attempt) -> Verdict:
    """Judge an attempt as it stands."""
    story = Story(attempt)
    judged = [(mark, mark.judge(story)) for mark in MARKS]
    given = tuple(_given(judged))
    failed_by = tuple(f"{one.name}: {one.why}" for one in given if one.fails)
    score = max(0.0, sum(one.points for one in given) - HINT_COSTS * attempt.hints)
    groups = {one.group for one in given}
    return Verdict(
        drill=attempt.drill.name,
        title=attempt.drill.title,
        passed=not failed_by and score >= PASS_PERCENT,
        score=round(score, 1),
        given=given,
        not_asked=(
            *(group for group in WEIGHTS if group not in groups),
            *(mark.name for mark, one in judged if one is None and mark.group in groups),
        ),
        failed_by=failed_by,
        mistakes=mistakes_of(story, (one for _, one in judged if one is not None)),
        truth=attempt.drill.truth,
        answers=attempt.answers,
        took_s=story.took_s,
        budget_s=attempt.drill.lesson.budget_s,
        hints=attempt.hints,
        skills=attempt.drill.lesson.skills,
        practise=tuple(_practise(given)),
        practice=attempt.drill.lesson.practice,
    )


def _given(judged: list[tuple[Mark, Judged | None]]) -> Iterator[Given]:
    """Each mark that is asked, scaled: marks to their group's weight, groups to a hundred."""
    sums: dict[Group, float] = {}
    for mark, one in judged:
        if one is not None:
            sums[mark.group] = sums.get(mark.group, 0.0) + mark.points
    whole = sum(WEIGHTS[group] for group in sums)
    for mark, one in judged:
        if one is not None:
            most = mark.points / sums[mark.group] * WEIGHTS[mark.group] / whole * 100
            yield Given(mark.name, mark.group, one.share * most, most, one.why, one.fails)


def _practise(given: tuple[Given, ...]) -> Iterator[str]:
    """What to do next time, for each mark that was lost; the dearest first."""
    advice = {mark.name: mark.practise for mark in MARKS}
    for one in sorted(given, key=lambda one: one.points - one.most):
        if one.points < one.most - LOST or one.fails:
            yield f"{one.name}: {advice[one.name]}"
