"""The lesson after a drill as one HTML page. All is escaped."""

from collections.abc import Iterable, Iterator
from html import escape

from farend_sim.answers.page import document
from farend_sim.bench.answer import said
from farend_sim.cautions import CAUTIONS
from farend_sim.drill.lesson.debrief import Debrief, Moment
from farend_sim.drill.lesson.drawing import line_svg, timeline_svg
from farend_sim.drill.marks.verdict import HINT_COSTS
from farend_sim.drill.marks.verdict_text import heading, hints_words, next_words
from farend_sim.drill.told import record_text, ticket_text


def debrief_page(lesson: Debrief, feet: bool = False) -> str:
    """The whole page."""
    return document(heading(lesson.verdict), _body(lesson, feet))


def _body(lesson: Debrief, feet: bool) -> Iterator[str]:
    verdict = lesson.verdict
    yield from (f"<p>Worked by {escape(lesson.who)}.</p>" if lesson.who else "",)
    yield f"<pre>{escape(ticket_text(lesson.drill))}</pre>"
    yield from _list("Failed by", verdict.failed_by)
    yield "<h2>Marks</h2><table><tr><th>mark</th><th>points</th><th>of</th><th>why</th></tr>"
    for one in verdict.given:
        numbers = "".join(f'<td class="number">{x:.1f}</td>' for x in (one.points, one.most))
        yield f"<tr><td>{escape(one.name)}</td>{numbers}<td>{escape(one.why)}</td></tr>"
    if verdict.hints:
        cost = f'<td class="number">{-HINT_COSTS * verdict.hints:.1f}</td><td></td>'
        yield f"<tr><td>hints</td>{cost}<td>{hints_words(verdict)}</td></tr>"
    yield "</table>"
    yield from _list("What to practise, the dearest first", verdict.practise)
    if verdict.not_asked:
        yield f"<p>Not asked here, the rest scaled up: {escape(', '.join(verdict.not_asked))}.</p>"
    yield "<h2>Truth against belief</h2>"
    yield "<table><tr><th>what is wrong</th><th>what was answered</th></tr><tr>"
    for answers in (verdict.truth, verdict.answers):
        told = "<br>".join(escape(said(one, feet)) for one in answers) or "nothing"
        yield f"<td>{told}</td>"
    yield "</tr></table><h2>The line as it was</h2>"
    yield line_svg(lesson, feet)
    yield f"<pre>{escape(record_text(lesson.drill, feet))}</pre>"
    yield from _list("Errors to learn from", (one.said for one in verdict.mistakes))
    yield "<h2>What was done</h2>"
    yield timeline_svg(lesson)
    yield from _moments(lesson.moments)
    yield from _list("What an expert would have made of the same readings", lesson.opinion)
    if lesson.expert or lesson.expert_words:
        yield "<h2>What an expert would have done</h2>"
        yield f"<p>{escape(lesson.expert_words)}</p>"
        yield from _moments(lesson.expert)
    yield f"<h2>Next</h2><p>{escape(next_words(verdict))}</p>"
    yield from _list("On a real pair", CAUTIONS)


def _list(title: str, lines: Iterable[str]) -> Iterator[str]:
    items = "".join(f"<li>{escape(each)}</li>" for each in lines)
    if items:
        yield f"<h2>{escape(title)}</h2><ul>{items}</ul>"


def _moments(moments: Iterable[Moment]) -> Iterator[str]:
    yield "<table><tr><th>s</th><th>step</th><th>what came of it</th><th>unit</th></tr>"
    for one in moments:
        kind = ' class="spoiled"' if one.kind == "spoiled" else ""
        yield (
            f'<tr{kind}><td class="number">{one.start_s:.1f}</td><td>{escape(one.what)}</td>'
            f"<td>{escape(one.came)}</td><td>{escape(one.far)}</td></tr>"
        )
    yield "</table>"
