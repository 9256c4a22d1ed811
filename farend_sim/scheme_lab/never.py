"""A person's own invariants: "never X within Y seconds of Z", looked for by the quickest way.

Law: a finger is as quick as the receiver allows, and every timer as short as the scheme allows, so
that an invariant that holds here holds for everybody.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from heapq import heappop, heappush

from farend_sim.scheme_lab.automaton import PAUSE, UNLOCK
from farend_sim.scheme_lab.explore import Explored, Way
from farend_sim.scheme_lab.model import OVER, Done, Model, Moment
from farend_sim.unit.scheme import Never, Scheme
from farend_sim.unit.table import HOLDS, Action, Input, State
from farend_sim.unit_file import UnitFile


@dataclass(frozen=True, slots=True)
class Broken:
    """An invariant and the quickest way to break it."""

    never: Never
    way: Way
    after_s: float | None
    """How soon after the other act; None where there is none."""


def broken(scheme: Scheme, model: Model, explored: Explored, file: UnitFile) -> Iterator[Broken]:
    """Find which of a scheme's invariants do not hold."""
    for never in scheme.never:
        if never.after is None:
            way = explored.first(partial(_ends_in, never.does))
            if way is not None:
                yield Broken(never, way, None)
        elif (found := _soonest(model, explored, file, never)) is not None:
            yield found


def _ends_in(event: str, _: Moment, step: Done) -> bool:
    return _is(step, event)


def _is(step: Done, event: str) -> bool:
    """Whether a step is an act that people call so, and that the table does not ignore."""
    if step.act is None or step.action is Action.IGNORE:
        return False
    name = step.act.input.value.removeprefix("command-")
    if step.act.input in (Input.OVER, Input.OVER_ATTENTIVE):
        name = "hold-over"
    return name == event


def _soonest(model: Model, explored: Explored, file: UnitFile, never: Never) -> Broken | None:
    """Dijkstra's way over time from every moment at which the other act has just been."""
    key_us = round(1000 * (file.receiver.tone_accept_ms + file.receiver.pause_ms))
    best: dict[Moment, int] = {}
    ahead: list[tuple[int, int, Moment, int, Way]] = []
    for at, step in explored.steps():
        if _is(step, never.after or "") and step.to not in best:
            best[step.to] = 0
            way = explored.way(at, step.symbol)
            # A hold that began with this act has all its time to run; an older one may end at once.
            began_us = 0 if step.action is Action.HOLD else -(10**12)
            heappush(ahead, (0, len(ahead), step.to, began_us, way))
    limit_us = None if never.within_s is None else round(never.within_s * 1e6)
    pushed = len(ahead)
    while ahead:
        now_us, _, at, began_us, way = heappop(ahead)
        if limit_us is not None and now_us >= limit_us:
            return None
        if now_us > best[at]:
            continue
        for step in model.steps(at, by_hand=False):
            due_us = now_us + _takes_us(model, at, step, key_us)
            if step.symbol == OVER:
                due_us = max(now_us, began_us + _hold_us(model, at.state))
            in_time = limit_us is None or due_us < limit_us
            if _is(step, never.does) and in_time:
                return Broken(never, (*way, step.symbol), due_us / 1e6)
            if in_time and due_us < best.get(step.to, due_us + 1):
                best[step.to] = due_us
                pushed += 1
                start_us = due_us if step.action is Action.HOLD else began_us
                heappush(ahead, (due_us, pushed, step.to, start_us, (*way, step.symbol)))
    return None


def _takes_us(model: Model, at: Moment, step: Done, key_us: int) -> int:
    """The least time that a step takes."""
    if step.symbol == PAUSE:
        whole = at.place.attentive and (at.place.length == 0 or at.place.paused)
        return model.scheme.attention_us if whole else model.scheme.gap_us
    if step.symbol == UNLOCK or len(step.symbol) > 1:
        return 0
    return key_us


def _hold_us(model: Model, state: State) -> int:
    """The shortest hold of a state: its own, or the shortest that can be set."""
    if state not in HOLDS:
        return 0
    own = [each.hold_us or 0 for each in model.scheme.commands if each.input is Input[state.name]]
    settable = [
        each.shortest_us or 0 for each in model.scheme.commands if each.input is Input.SET_HOLD
    ]
    return min(own + settable, default=0)
