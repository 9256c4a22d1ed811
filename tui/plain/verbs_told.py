"""The steps that can be typed, each with what it does, made for a pair.

Law: it is made from the record, the meters and the block; nothing in it tells of the trouble.
"""

from collections.abc import Iterator

from farend_sim.bench.steps import Step, block, book, meter, near_end, route, ties, unit
from farend_sim.bench.steps.grammar import VERBS
from farend_sim.situation import Situation


def verbs_text(situation: Situation, *, drill: bool = False) -> str:
    """All steps that this pair has a use for."""
    return "\n".join(_lines(situation, drill))


def usage(text: str) -> str:
    """How the step is written whose verb this line begins with, as a line; empty for no step."""
    step = VERBS.get(text.split(" ")[0])
    return f"{step.USAGE}\n" if step else ""


def _lines(situation: Situation, drill: bool) -> Iterator[str]:
    for family in _families(situation, drill):
        for step in family:
            yield f"  {step.USAGE}"
            yield f"      {(step.__doc__ or '').splitlines()[0]}"
    yield f"meters: {', '.join(situation.meters)}"


def _families(situation: Situation, drill: bool) -> Iterator[tuple[type[Step], ...]]:
    scenario = situation.scenario
    yield meter.STEPS
    yield near_end.STEPS
    yield book.STEPS
    yield unit.STEPS
    if scenario.recorded.access:
        yield route.STEPS
    yield route.REPAIRS
    if scenario.block is not None:
        yield block.STEPS
    if any(each.kind == "bridge" for each in situation.meters.values()):
        yield ties.STEPS
    if not drill:
        yield unit.TRAINERS
