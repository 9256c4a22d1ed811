"""The mistakes told in the lesson after a drill: those that lost a mark, and those without one.

What a mark is lost by is found where it is judged. Here are those that cost nothing by themselves.
To add one: a function that yields mistakes, and its row in `MISTAKES`.
"""

from collections.abc import Callable, Iterable, Iterator

from farend_sim.bench import steps as s
from farend_sim.bench.answer import NONE, Answer
from farend_sim.drill.marks.mark import Judged, Mistake, mistake
from farend_sim.drill.work.story import Story
from farend_sim.unit.table import State
from line_model.cable import copper_factor
from line_model.constants import FOOT_M


def mistakes_of(story: Story, judged: Iterable[Judged]) -> tuple[Mistake, ...]:
    """All mistakes of an attempt, each kind's first three, in the order of time."""
    kinds = (*(one.mistakes for one in judged), *(tuple(look(story)) for look in MISTAKES))
    found = [one for kind in kinds for one in kind[:3]]
    return tuple(sorted(found, key=lambda one: (one.t_s is None, one.t_s or 0.0)))


def _dialled_over_a_meter(story: Story) -> Iterator[Mistake]:
    for each in story.done:
        if isinstance(each.step, s.Keys) and each.before.meter is not None:
            yield mistake(each, "keys sent with a meter still on the pair: it weakens them")


def _places(story: Story) -> Iterator[Mistake]:
    """Wrong places that one common error explains."""
    for match in story.matched:
        answer, truth = match.answer, match.truth
        if answer is None or answer.at_m is None or not truth.at_m:
            continue
        if abs(answer.at_m - truth.at_m) <= story.drill.within_m:
            continue
        for factor, text in _FACTORS:
            if abs(answer.at_m / factor - truth.at_m) <= story.drill.within_m / 3:
                yield Mistake(None, text)
                break
        else:
            yield from _cold(story, answer, truth.at_m)


def _cold(story: Story, answer: Answer, truth_m: float) -> Iterator[Mistake]:
    celsius = story.scenario.plant.temperature_c
    wrong_m = truth_m * copper_factor(celsius)
    is_near = abs((answer.at_m or 0.0) - wrong_m) <= story.drill.within_m / 3
    if abs(celsius - 20.0) >= 8 and is_near:
        yield Mistake(None, "the place fits copper at 20 C: the cable's temperature was left out")


_FACTORS = (
    (2.0, "the place is twice too far: a loop's ohms taken as one leg's"),
    (0.5, "the place is half as far: one leg's ohms taken as a loop's"),
    (1 / FOOT_M, "the place fits in feet, and was given as metres"),
    (FOOT_M, "the place fits in metres, and was given as feet"),
)


def _replied_so_good(story: Story) -> Iterator[Mistake]:
    said_none = any(one.kind == NONE for one in story.attempt.answers)
    if said_none and story.drill.truth[0].kind != NONE:
        replied = any(one.row.get("heard") for one in story.done)
        why = "a reply does not prove a pair" if replied else "its readings do not say so"
        yield Mistake(None, f"called good, and it is not: {why}")


def _loaded_by_the_unit(story: Story) -> Iterator[Mistake]:
    for each in story.driving:
        off = each.before.far.state in (State.OFF_PAIR, State.OPEN)
        if story.kind(each) in ("capacitance", "insulation") and not off:
            yield mistake(each, f"{each.row['meter']} with the unit's own share on the pair")


MISTAKES: tuple[Callable[[Story], Iterator[Mistake]], ...] = (
    _dialled_over_a_meter,
    _loaded_by_the_unit,
    _replied_so_good,
    _places,
)
