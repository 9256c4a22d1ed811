"""A hint: what a careful worker would do next, from what was done so far.

Law: it is made from rows that the trainee has seen, never from the truth.
"""

from collections.abc import Iterator

from farend_sim.bench.steps import Lift
from farend_sim.drill.solving.opinion_text import misfit_lines
from farend_sim.drill.solving.second_opinion import SecondOpinion
from farend_sim.drill.solving.survey import FOREIGN_VOLT, of_ohms
from farend_sim.drill.work.asked import readings_asked
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.story import THREE_PAIRS, Story
from farend_sim.unit.table import HOLDS


def hint(attempt: Attempt) -> str:
    """What to do next."""
    return next(_hints(Story(attempt)))


def _hints(story: Story) -> Iterator[str]:
    if story.has_behind and not any(isinstance(one.step, Lift) for one in story.done):
        yield "Lift what is behind the near end: until then it is in every reading."
    for kind, name in (("volts", "DC"), ("ac-volts", "AC")):
        looked = story.looked_for_volts(kind)
        left = ["-".join(pair) for pair in THREE_PAIRS if tuple(sorted(pair)) not in looked]
        if kind in story.kinds and left and not story.driving:
            yield f"Look for foreign {name} first: across {', '.join(left)}."
    if _foreign(story):
        yield "There is foreign voltage on this pair: stop, back off, and say that it is reported."
    opinion = SecondOpinion(story)
    if "ohms" in story.kinds:
        if not any(one.step.text == "zero" for one in story.done):
            yield "Take the ohmmeter's leads off its readings: clip it on and `zero`."
        surveyed = _surveyed(story)
        for asked, words in of_ohms("ohms"):
            if asked.state != "idle" and opinion.heard is False:
                break  # a unit that does not answer is told nothing
            if (asked.state, asked.across) not in surveyed:
                yield f"Still to be read: {words}."
    if not story.attempt.answers:
        yield from _second(opinion)
    if not story.logged:
        yield "Write down what tells: read, then `log`."
    if not story.attempt.answers:
        yield "Reckon with `locate` and the record, then `answer`."
    yield "Put everything back: meter off, unit at rest, line restored. Then `done`."


def _second(opinion: SecondOpinion) -> Iterator[str]:
    if opinion.opinion is not None and (lines := list(misfit_lines(opinion.opinion))):
        yield " ".join((*lines, "Take it again; if it stays, think of what is seldom seen."))
    elif (look := opinion.next()) is not None:
        yield f"The reading that would tell most now: {look.words}."


def _foreign(story: Story) -> bool:
    volts = (one for one in story.readings if story.kind(one) in ("volts", "ac-volts"))
    return any(
        abs(one.row.get("value") or 0.0) > FOREIGN_VOLT
        for one in volts
        if one.row.get("settled") and not story.behind_on(one) and story.on_own_pair(one)
    )


def _surveyed(story: Story) -> set[tuple[str, str]]:
    """Which looks were taken, in the states that were asked for."""
    asked = readings_asked(story.done, story.drill.situation)
    return {
        (
            state.value if state in HOLDS else "idle",
            "-".join(sorted(one.row["across"].split("-"), key=_ORDER.index)),
        )
        for one, state in asked
        if story.kind(one) == "ohms" and not story.behind_on(one)
        if set(one.row["across"].split("-")) <= set(_ORDER)
    }


_ORDER = ["tip", "ring", "sheath"]
