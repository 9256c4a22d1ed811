"""A verdict in plain text: the marks, what failed it, the errors, and truth beside belief."""

from collections.abc import Iterator

from farend_sim.bench.answer import said
from farend_sim.drill.marks.verdict import HINT_COSTS, Verdict


def verdict_text(verdict: Verdict, feet: bool = False) -> str:
    """All that a verdict says."""
    return "\n".join(_lines(verdict, feet))


def heading(verdict: Verdict) -> str:
    """The verdict in a line."""
    word = "Passed" if verdict.passed else "Not passed"
    return f"{word}: {verdict.score:.0f} of 100. {verdict.title}"


def _lines(verdict: Verdict, feet: bool) -> Iterator[str]:
    yield heading(verdict)
    for why in verdict.failed_by:
        yield f"  failed by {why}"
    yield ""
    for one in verdict.given:
        yield f"{one.points:>6.1f} of {one.most:>4.1f}  {one.name}: {one.why}"
    if verdict.hints:
        yield f"{-HINT_COSTS * verdict.hints:>6.1f}          {hints_words(verdict)}"
    if verdict.not_asked:
        yield f"not asked here, the rest scaled up: {', '.join(verdict.not_asked)}"
    yield ""
    yield "What is wrong:"
    yield from (f"  {said(one, feet)}" for one in verdict.truth)
    yield "What was answered:"
    yield from (f"  {said(one, feet)}" for one in verdict.answers)
    if not verdict.answers:
        yield "  nothing"
    if verdict.mistakes:
        yield ""
        yield "Errors to learn from:"
    yield from (f"  {one.said}" for one in verdict.mistakes)
    if verdict.practise:
        yield ""
        yield "What to practise, the dearest first:"
        yield from (f"  {one}" for one in verdict.practise)
    yield ""
    yield f"Next: {next_words(verdict)}"


def hints_words(verdict: Verdict) -> str:
    """What the hints came to."""
    return "for a hint" if verdict.hints == 1 else f"for {verdict.hints} hints"


def next_words(verdict: Verdict) -> str:
    """What comes next: who has not passed does this one again."""
    if verdict.passed:
        return verdict.practice.strip() or "the next drill."
    return "this drill again (`drill do ... --again`), with what is named above."
