"""The mistakes that a trainer marks: each looked for in an attempt, told with when it was made.

They cost nothing by themselves: the rubric's marks do. They are for the lesson after it.
To add one: a function that yields mistakes, and its row in `MISTAKES`.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from farend_sim.bench import steps as s
from farend_sim.bench.answer import NONE, Answer
from farend_sim.drill.done import Done
from farend_sim.drill.story import Story
from farend_sim.unit.table import State
from line_model.cable import copper_factor
from line_model.constants import FOOT_M


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake: when it was made, and what it was."""

    t_s: float | None
    text: str

    @property
    def said(self) -> str:
        """The time, where there is one, and the mistake."""
        return self.text if self.t_s is None else f"{self.t_s:.0f} s: {self.text}"


def mistakes_of(story: Story) -> tuple[Mistake, ...]:
    """All mistakes of an attempt, each kind's first three, in the order of time."""
    found = [one for look in MISTAKES for one in list(look(story))[:3]]
    return tuple(sorted(found, key=lambda one: (one.t_s is None, one.t_s or 0.0)))


def _at(done: Done, text: str) -> Mistake:
    return Mistake(done.row["start_s"], text)


def _live(story: Story) -> Iterator[Mistake]:
    for each in story.driving:
        if any(one.kind == "battery" for one in story.drill.truth):
            yield _at(each, f"{each.row['meter']} on a pair that carries foreign battery")
        elif story.behind_on(each):
            yield _at(each, f"{each.row['meter']} with the {_behind(story)} not lifted")


def _behind(story: Story) -> str:
    return story.scenario.behind.equipment


def _dialled_over_a_meter(story: Story) -> Iterator[Mistake]:
    for each in story.done:
        if isinstance(each.step, s.Keys) and each.before.meter is not None:
            yield _at(each, "keys sent with a meter still on the pair: it weakens them")


def _spoiled(story: Story) -> Iterator[Mistake]:
    for each in story.driving:
        if each.settled:
            continue
        before, after = each.before.far.state, each.after.far.state
        if before is State.ATTENTIVE and after is not before:
            why = "it was begun before the contact had closed"
        elif before is not after:
            why = "the hold ran out under it"
        else:
            why = "it had not come to rest"
        believed = ", and was written down" if each in story.logged else ""
        yield _at(each, f"a spoiled reading: {why}{believed}")


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


def _one_polarity(story: Story) -> Iterator[Mistake]:
    if story.drill.leaks and story.driving and not reversed_somewhere(story):
        yield Mistake(None, "one polarity only: wet leakage is a cell too, and reads two ways")


def reversed_somewhere(story: Story) -> bool:
    """Whether any two terminals were read both ways about."""
    across = {each.row["across"] for each in story.driving if "across" in each.row}
    return any("-".join(reversed(one.split("-"))) in across for one in across)


def _replied_so_good(story: Story) -> Iterator[Mistake]:
    said_none = any(one.kind == NONE for one in story.attempt.answers)
    if said_none and story.drill.truth[0].kind != NONE:
        replied = any(one.row.get("heard") for one in story.done)
        why = "a reply does not prove a pair" if replied else "its readings do not say so"
        yield Mistake(None, f"called good, and it is not: {why}")


def _left(story: Story) -> Iterator[Mistake]:
    far = story.last.far
    if far.deadline_us is not None:
        yield Mistake(story.took_s, f"left with the unit's {far.state.value} still on the pair")
    if story.has_behind and story.last.lifted:
        yield Mistake(story.took_s, f"left with the {_behind(story)} lifted: no service")
    if story.last.lead != "clear":
        yield Mistake(story.took_s, "left with a clip lead on the pair")
    if story.last.meter is not None:
        yield Mistake(story.took_s, "left with a meter on the pair")


def _opened_unbonded(story: Story) -> Iterator[Mistake]:
    for each in story.done:
        if isinstance(each.step, s.OpenJoint) and "caution" in each.row:
            yield _at(each, f"a sheath opened: {each.row['caution']}")


def _ungrounded(story: Story) -> Iterator[Mistake]:
    for each in story.done:
        if isinstance(each.step, s.UnitClip | s.UnitGround) and "caution" in each.row:
            yield _at(each, f"the unit's clips: {each.row['caution']}")


def _wrong_pair(story: Story) -> Iterator[Mistake]:
    for each in story.driving:
        if not story.on_own_pair(each):
            yield _at(each, f"{each.row['meter']} on another pair than the ticket's")


def _loaded_by_the_unit(story: Story) -> Iterator[Mistake]:
    for each in story.driving:
        off = each.before.far.state in (State.OFF_PAIR, State.OPEN)
        if story.kind(each) in ("capacitance", "insulation") and not off:
            yield _at(each, f"{each.row['meter']} with the unit's own share on the pair")


MISTAKES: tuple[Callable[[Story], Iterator[Mistake]], ...] = (
    _live,
    _wrong_pair,
    _dialled_over_a_meter,
    _spoiled,
    _loaded_by_the_unit,
    _opened_unbonded,
    _ungrounded,
    _one_polarity,
    _replied_so_good,
    _places,
    _left,
)
