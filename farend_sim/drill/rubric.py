"""The marks of a drill: a row a mark, a hundred in all, and what each is given for.

A mark is judged from what was done and from nothing else. What a drill cannot ask (no block,
nothing behind the near end) is left out, and the rest is scaled to a hundred. The weights are
common practice among trainers, no source; how they are split within a group is invented here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from farend_sim.drill import marks_answer as answer
from farend_sim.drill import marks_safety as safety
from farend_sim.drill import marks_work as work
from farend_sim.drill.judged import Judged
from farend_sim.drill.story import Story

Group = Literal["safety", "identity", "trouble", "place", "quality", "economy", "proof", "record"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark; a judgement of None says that the drill does not ask for it."""

    name: str
    group: Group
    points: float
    judge: Callable[[Story], Judged | None]


MARKS: tuple[Mark, ...] = (
    Mark("foreign DC first", "safety", 6, safety.foreign_dc),
    Mark("foreign AC first", "safety", 5, safety.foreign_ac),
    Mark("lifted before test", "safety", 5, safety.lifted),
    Mark("stopped and reported", "safety", 4, safety.stopped),
    Mark("bonded before opened", "safety", 4, safety.bonded),
    Mark("tone on both legs", "identity", 4, safety.both_legs),
    Mark("pinched", "identity", 3, safety.pinched),
    Mark("no other pair driven", "identity", 3, safety.own_pair),
    Mark("right trouble", "trouble", 9, answer.kind),
    Mark("right leg", "trouble", 6, answer.leg),
    Mark("right resistance", "trouble", 2, answer.ohm),
    Mark("right thing to do", "trouble", 3, answer.action),
    Mark("right place", "place", 15, answer.place),
    Mark("readings at rest", "quality", 4, work.settled),
    Mark("leads zeroed", "quality", 3, work.zeroed),
    Mark("both polarities", "quality", 3, work.both_ways),
    Mark("within the time", "economy", 3, work.in_time),
    Mark("holds used", "economy", 2, work.holds_used),
    Mark("proved after repair", "proof", 6, work.proved),
    Mark("unit at rest", "proof", 4, work.at_rest),
    Mark("line restored", "proof", 3, work.restored),
    Mark("leads off", "proof", 2, work.cleared),
    Mark("readings written down", "record", 5, work.written),
)
"""All marks. A group's are not all asked of one drill: each group is scaled to its weight."""

WEIGHTS: dict[Group, float] = {
    "safety": 20,
    "identity": 10,
    "trouble": 20,
    "place": 15,
    "quality": 10,
    "economy": 5,
    "proof": 15,
    "record": 5,
}
"""What each group weighs of a hundred. Common practice among trainers, no source."""
