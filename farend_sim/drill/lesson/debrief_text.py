"""The lesson after a drill in plain text."""

from collections.abc import Iterable, Iterator

from farend_sim.cautions import CAUTIONS, FIRST
from farend_sim.drill.lesson.debrief import Debrief, Moment
from farend_sim.drill.marks.verdict_text import verdict_text
from farend_sim.drill.told import ticket_text
from farend_sim.route_drawing import Mark, route_lines
from farend_sim.said import length


def debrief_text(lesson: Debrief, feet: bool = False) -> str:
    """The whole lesson."""
    return "\n".join(_lines(lesson, feet)) + "\n"


def _lines(lesson: Debrief, feet: bool) -> Iterator[str]:
    yield FIRST
    yield ""
    yield ticket_text(lesson.drill)
    yield ""
    yield verdict_text(lesson.verdict, feet)
    yield ""
    yield "The line as it was:"
    yield from line_lines(lesson, feet)
    yield ""
    yield "What was done:"
    yield from _moments(lesson.moments)
    for hold in lesson.holds:
        yield f"  hold {hold.state}: from {hold.start_s:.1f} s to {hold.end_s:.1f} s"
    if lesson.opinion:
        yield ""
        yield "What an expert would have made of the same readings:"
        yield from (f"  {each}" for each in lesson.opinion)
    if lesson.expert_words or lesson.expert:
        yield ""
        yield "What an expert would have done:"
        if lesson.expert_words:
            yield lesson.expert_words
        yield from _moments(lesson.expert)
    yield ""
    yield "On a real pair:"
    yield from (f"- {each}" for each in CAUTIONS)


def _moments(moments: Iterable[Moment]) -> Iterator[str]:
    for one in moments:
        came = f"  -> {one.came}" if one.came else ""
        yield f"  {one.start_s:>7.1f} s  {one.what}{came}"


def line_lines(lesson: Debrief, feet: bool) -> Iterator[str]:
    """The route in lines of text, with what was wrong (`x`) and what was believed (`?`)."""
    marks = [
        Mark(one.at_m - (one.within_m or 0.0), one.at_m + (one.within_m or 0.0), sign)
        for answers, sign in ((lesson.verdict.answers, "?"), (lesson.verdict.truth, "x"))
        for one in answers
        if one.at_m is not None
    ]
    plant = lesson.drill.situation.scenario.plant
    names, cable, *under = route_lines(plant, feet, *([marks] if marks else []))
    yield from (names, f"{cable}, {length(plant.length_m, feet)}", *under)
    if marks:
        yield "x what is wrong, ? where it was said to be; + joints, T taps"
