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
    practise: str
    """What who loses it should do next."""


MARKS: tuple[Mark, ...] = (
    Mark(
        "foreign DC first",
        "safety",
        6,
        safety.foreign_dc,
        "Before any other meter: volts across tip-ring, tip-sheath and ring-sheath, each time.",
    ),
    Mark(
        "foreign AC first",
        "safety",
        5,
        safety.foreign_ac,
        "Before any other meter: AC volts across the same three, each time.",
    ),
    Mark(
        "lifted before test",
        "safety",
        5,
        safety.lifted,
        "Make `lift` the first thing done wherever an office or a telephone is behind the pair.",
    ),
    Mark(
        "stopped and reported",
        "safety",
        4,
        safety.stopped,
        "Over foreign volts do nothing more: meter off, `answer ... action=report`, hand in.",
    ),
    Mark(
        "bonded before opened",
        "safety",
        4,
        safety.bonded,
        "`bond` across the sheath before every `open-joint`.",
    ),
    Mark(
        "ground first on, last off",
        "safety",
        4,
        safety.grounded_first,
        "Unit off the pair first, then `unit ground off`; `unit ground on` before `unit clip`.",
    ),
    Mark(
        "tone on both legs",
        "identity",
        4,
        safety.both_legs,
        "Have the unit sound its tone, and probe both legs of the post before a meter goes on.",
    ),
    Mark(
        "pinched",
        "identity",
        3,
        safety.pinched,
        "Pinch the post while its tone sounds: the right pair's tone dies, and no neighbour's "
        "does.",
    ),
    Mark(
        "no other pair driven",
        "identity",
        3,
        safety.own_pair,
        "Clip no meter but a voltmeter to a post that tone and pinch have not proved.",
    ),
    Mark(
        "right trouble",
        "trouble",
        9,
        answer.kind,
        "Read the whole survey, also when the first reading seems to say it all: across, each "
        "leg to the sheath, strapped, each leg grounded.",
    ),
    Mark(
        "right leg",
        "trouble",
        6,
        answer.leg,
        "Measure each leg by itself: grounded at the far end one after the other, or each to "
        "the sheath.",
    ),
    Mark(
        "right resistance",
        "trouble",
        2,
        answer.ohm,
        "Reckon the trouble's own ohms, the cable's taken off: `locate shunt`, `locate legs`.",
    ),
    Mark(
        "right thing to do",
        "trouble",
        3,
        answer.action,
        "Say what is to be done: repair at a place, replace a wet stretch, report foreign volts.",
    ),
    Mark(
        "right place",
        "place",
        15,
        answer.place,
        "Reckon the place with `locate` at the record's temperature, and say within what it is.",
    ),
    Mark(
        "readings at rest",
        "quality",
        4,
        work.settled,
        "Read when the reply has been heard and the contact has closed, well before the hold "
        "ends; read again what wandered.",
    ),
    Mark(
        "leads zeroed",
        "quality",
        3,
        work.zeroed,
        "`zero` the leads before the first ohms are believed.",
    ),
    Mark(
        "both polarities",
        "quality",
        3,
        work.both_ways,
        "Read a leak both ways round, tip-ring and ring-tip: what differs is a cell's work.",
    ),
    Mark(
        "within the time",
        "economy",
        3,
        work.in_time,
        "Do it again against the clock; a hold's wait is the time to reckon in.",
    ),
    Mark(
        "holds used",
        "economy",
        2,
        work.holds_used,
        "Have the meter chosen before a hold is asked for, and read within it.",
    ),
    Mark(
        "proved after repair",
        "proof",
        6,
        work.proved,
        "After a repair measure again all that was wrong before.",
    ),
    Mark(
        "unit at rest",
        "proof",
        4,
        work.at_rest,
        "Wait for the end of the hold, or release it, and hear it said, before you leave.",
    ),
    Mark(
        "line restored",
        "proof",
        3,
        work.restored,
        "`restore` is the last thing but one.",
    ),
    Mark(
        "leads off",
        "proof",
        2,
        work.cleared,
        "`meter off` and `near clear` at the end.",
    ),
    Mark(
        "readings written down",
        "record",
        5,
        work.written,
        "`log` each reading that tells, when it is made.",
    ),
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
