"""The rubric: all marks of a drill, and what each group of them weighs of a hundred.

A mark is judged from what was done and from nothing else. What a drill cannot ask (no block,
nothing behind the near end) is left out, and the rest is scaled to a hundred. The weights are
common practice among trainers, no source; how they are split within a group is invented here.
"""

from farend_sim.drill.marks import marks_answer as answer
from farend_sim.drill.marks import marks_safety as safety
from farend_sim.drill.marks import marks_work as work
from farend_sim.drill.marks.mark import Group

MARKS = (*safety.MARKS, *answer.MARKS, *work.MARKS)
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
