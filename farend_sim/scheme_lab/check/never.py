"""A person's own invariants: "never X within Y seconds of Z", looked for by the quickest way.

Law: a finger is as quick as the receiver allows, and every hold as short as the scheme lets it be
set, so that an invariant that holds here holds for everybody. The keys are told with that pace.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from heapq import heappop, heappush

from farend_sim.scheme_lab.check.automaton import PAUSE, UNLOCK
from farend_sim.scheme_lab.check.explore import Explored, Way
from farend_sim.scheme_lab.check.finding import Keyed
from farend_sim.scheme_lab.check.judge import way_to
from farend_sim.scheme_lab.check.model import OVER, Done, Model, Moment
from farend_sim.scheme_lab.check.replay import replay
from farend_sim.unit.keying import keys_for
from farend_sim.unit.scheme import Event, Never, Scheme
from farend_sim.unit.table import HOLDS, Action, Input, State
from farend_sim.unit_file import UnitFile


@dataclass(frozen=True, slots=True)
class Broken:
    """An invariant and the quickest way to break it."""

    never: Never
    way: Way
    keyed: tuple[Keyed, ...] = ()
    """The way as the running unit is played it, where time matters."""
    after_s: float | None = None
    """How soon after the other act; None where there is none."""


def broken(scheme: Scheme, model: Model, explored: Explored, file: UnitFile) -> Iterator[Broken]:
    """Find which of a scheme's invariants do not hold."""
    for never in scheme.never:
        if never.after is None:
            way = explored.first(partial(_ends_in, never.does))
            if way is not None:
                yield Broken(never, way)
        else:
            ways = [_soonest(model, explored, file, never, way) for way in _first_of_all(model)]
            found = [each for each in ways if each is not None]
            yield from sorted(found, key=lambda each: each.after_s or 0.0)[:1]


def _first_of_all(model: Model) -> Iterator[Way]:
    """Nothing; or the shortest hold is set, and the unit left until it attends no longer."""
    yield ()
    setter = model.scheme.of("set-hold")
    if setter.values:
        yield (*model.scheme.knock, *keys_for(model.scheme, setter, setter.values[0]), PAUSE)


def _ends_in(event: Event, _: Moment, step: Done) -> bool:
    return _is(step, event)


def _is(step: Done, event: Event | None) -> bool:
    """Whether a step is an act that people call so, and that the table does not ignore."""
    if step.act is None or step.action is Action.IGNORE:
        return False
    given = Input.OVER if step.act.input is Input.OVER_ATTENTIVE else step.act.input
    return given is Input(event)


def _soonest(
    model: Model, explored: Explored, file: UnitFile, never: Never, before: Way
) -> Broken | None:
    """Dijkstra's way over time from every moment at which the other act has just been."""
    key_us = round(1000 * (file.receiver.tone_accept_ms + file.receiver.pause_ms))
    holds_us = {state: _hold_us(model, file, state, before) for state in HOLDS}
    best: dict[Moment, int] = {}
    ahead: list[tuple[int, int, Moment, int, int, Way]] = []
    for at, step in explored.steps():
        if _is(step, never.after) and step.to not in best:
            best[step.to] = 0
            way = (*before, *explored.way(at, step.symbol))
            # A hold that was asked for now has all its time to run; an older one may end at once.
            asked_us = 0 if step.action is Action.HOLD else -(10**12)
            heappush(ahead, (0, len(ahead), step.to, asked_us, len(way), way))
    limit_us = None if never.within_s is None else round(never.within_s * 1e6)
    pushed = len(ahead)
    while ahead:
        now_us, _, at, asked_us, act, way = heappop(ahead)
        if now_us > best[at]:
            continue
        for step in model.steps(at, by_hand=False):
            due_us = now_us + _takes_us(model, at, step, key_us)
            if step.symbol == OVER:
                due_us = max(now_us, asked_us + holds_us.get(at.state, 0))
            in_time = limit_us is None or due_us < limit_us
            if _is(step, never.does) and in_time:
                keyed, _ = replay(model.scheme, file, (*way, step.symbol), key_us)
                after_s = round(keyed[-1].t_s - keyed[act - 1].t_s, 6)
                return Broken(never, (*way, step.symbol), keyed, after_s)
            if in_time and due_us < best.get(step.to, due_us + 1):
                best[step.to] = due_us
                pushed += 1
                begun_us = due_us if step.action is Action.HOLD else asked_us
                entry = due_us, pushed, step.to, begun_us, act, (*way, step.symbol)
                heappush(ahead, entry)
    return None


def _takes_us(model: Model, at: Moment, step: Done, key_us: int) -> int:
    """The least time that a step takes."""
    if step.symbol == PAUSE:
        whole = at.place.attentive and (at.place.length == 0 or at.place.paused)
        return model.scheme.attention_us if whole else model.scheme.gap_us
    if step.symbol == UNLOCK or len(step.symbol) > 1:
        return 0
    return key_us


def _hold_us(model: Model, file: UnitFile, state: State, before: Way) -> int:
    """From the key that asks for a hold to its end, the reply before it included."""
    keyed, _ = replay(model.scheme, file, (*before, *way_to(model, state), OVER))
    return round(1e6 * (keyed[-1].t_s - keyed[-2].t_s))
