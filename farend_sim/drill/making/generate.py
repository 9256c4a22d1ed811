"""A new drill by level and seed: drawn, told in words, and kept only if it is fair.

Law: the same curriculum, level and seed give the same drill, to the byte. What goes wrong is drawn
once, so that kinds come as often as the curriculum says; the pair is drawn again until the drill is
fair. It is fair when
- the expert, with the meters and states at hand, pins the trouble down and is right in all that is
  asked for; and
- where a place is asked for, the middle of the route misses. What has no place is guessed right at
  most as often as its commonest answer comes, and a curriculum limits that.
"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from farend_sim.bench.answer import Answer, same_resistance
from farend_sim.drill.drill import Drill, DrillFile, Lesson
from farend_sim.drill.files import drill_of
from farend_sim.drill.making.curriculum import Curriculum, Level, Mix, Words
from farend_sim.drill.making.draws import Draw, Drawn, drawn, evenly, mixed
from farend_sim.drill.seal import Sealed
from farend_sim.drill.solving.solve import Asks, Solution, asks_of, solve_drill
from farend_sim.drill.solving.solve_steps import steps_text
from farend_sim.errors import BadFileError
from farend_sim.loading.toml_text import table_of, toml_text
from farend_sim.scenario import Noise
from line_model.equipment import Equipment
from line_model.plant import Plant

MOST_TRIES = 60
"""So many draws without a fair drill, and the level itself is to blame. A choice, no source."""


@dataclass(frozen=True, slots=True)
class Made:
    """A drill that was kept."""

    drill: Drill
    mix: str
    """What of the level's mix it is."""
    tries: tuple["Try", ...]
    """The last one is the drill."""

    @property
    def solution(self) -> Solution:
        """How the expert solved it."""
        solution = self.tries[-1].solution
        assert solution is not None
        return solution


@dataclass(frozen=True, slots=True)
class Try:
    """A drill that was drawn, and what came of it."""

    drill: Drill
    solution: Solution | None
    """None where it can be guessed, so that nobody solved it."""
    why: str | None
    """Why it was not kept."""


def level_of(curriculum: Curriculum, number: int) -> Level:
    """A level by its number.

    Raises:
        BadFileError: there is none.
    """
    known = {one.level: one for one in curriculum.level}
    if number not in known:
        levels = ", ".join(str(each) for each in sorted(known))
        raise BadFileError(f"--level: found {number}, expected one of {levels}")
    return known[number]


def new_drill(curriculum: Curriculum, number: int, seed: int) -> Made:
    """Make a fair drill.

    Raises:
        BadFileError: there is no such level, or none of many draws is fair.
    """
    level = level_of(curriculum, number)
    mix = mixed(level, np.random.default_rng([seed, number]))
    tries: list[Try] = []
    while len(tries) < MOST_TRIES:
        draw = np.random.default_rng([seed, number, len(tries)])
        drill = _written(level, curriculum.words, drawn(level, mix, draw), draw, seed)
        tries.append(_tried(drill))
        if tries[-1].why is None:
            made = Made(drill, mix.name, tuple(tries))
            return replace(made, drill=_with_steps(drill, made.solution))
    raise BadFileError(
        f"level {number}: found no fair drill in {MOST_TRIES} draws of {mix.name}: "
        f"{tries[-1].why}; expected meters that can find what goes wrong"
    )


def _tried(drill: Drill) -> Try:
    if guessed(drill):
        return Try(drill, None, "it can be guessed")
    solution = solve_drill(drill)
    return Try(drill, solution, missed(drill, solution))


# -- fair ----------------------------------------------------------------------------------------


def missed(drill: Drill, solution: Solution) -> str | None:
    """Why the expert does not solve a drill; None if it does."""
    if not solution.pinned:
        return "the expert cannot pin it down"
    if not right(drill, solution.opinion.best.answers()):
        return "the expert is wrong"
    return None


def guessed(drill: Drill) -> bool:
    """Whether the middle of the route is near enough to a place that is asked for."""
    within_m = asks_of(drill).within_m
    middle_m = drill.situation.scenario.recorded.length_m / 2
    places = [one.at_m for one in drill.truth if one.at_m is not None]
    return within_m is not None and any(abs(at_m - middle_m) <= within_m for at_m in places)


def right(drill: Drill, answers: list[Answer]) -> bool:
    """Whether answers are right in all that a drill asks for."""
    truth = sorted(drill.truth, key=_order)
    answers = sorted(answers, key=_order)
    if len(truth) != len(answers):
        return False
    asks, known = asks_of(drill), drill.lesson.asks
    pairs = zip(truth, answers, strict=True)
    return all(_same(is_so, said, asks, "leg" in known) for is_so, said in pairs)


def _order(answer: Answer) -> tuple[str, tuple[str, ...]]:
    return answer.kind, answer.leg


def _same(is_so: Answer, said: Answer, asks: Asks, leg: bool) -> bool:
    if is_so.kind != said.kind or (leg and is_so.leg != said.leg):
        return False
    off_m = abs((said.at_m or 0.0) - (is_so.at_m or 0.0))
    if asks.within_m is not None and is_so.at_m is not None and off_m > asks.within_m:
        return False
    if not asks.ohm or is_so.ohm is None:
        return True
    return said.ohm is not None and same_resistance(said.ohm, is_so.ohm)


# -- written ---------------------------------------------------------------------------------------


def _written(level: Level, words: Words, pair: Drawn, draw: Draw, seed: int) -> Drill:
    cable = str(draw.choice(words.cables))
    number, customer = int(draw.integers(1, 100)), str(draw.choice(words.customers))
    file = DrillFile(
        format=1,
        title=f"{cable} {number}: {customer}",
        seed=int(draw.integers(2**31)),
        meters=_meters(level, draw),
        plant=_named(pair.plant, cable),
        record=_named(pair.record, cable),
        trouble=pair.trouble,
        behind=Equipment(equipment=_behind(level, draw)),
        noise=_noise(level, draw),
        drill=Lesson(
            level=level.level,
            skills=pair.mix.skills,
            ticket=_ticket(words, pair.mix, draw),
            record=level.record_of(pair.mix),
            doubt=level.doubt_of(pair.mix),
            budget_s=level.budget_s,
            asks=pair.mix.asks,
        ),
    )
    return drill_of(Sealed(toml_text(table_of(file))), f"level-{level.level}-seed-{seed}")


def _named(plant: Plant, cable: str) -> Plant:
    several = len(plant.section) > 1
    names = [f"{cable} {letter}" if several else cable for letter in "ABCDEF"]
    pairs = zip(plant.section, names, strict=False)
    return replace(plant, section=tuple(replace(one, name=name) for one, name in pairs))


def _meters(level: Level, draw: Draw) -> tuple[str, ...]:
    """The meters at hand: all, or all but one."""
    gone = str(draw.choice(level.missing)) if level.missing else ""
    return tuple(name for name in level.meters if name != gone)


def _behind(level: Level, draw: Draw) -> Literal["none", "office"]:
    return "office" if 100 * draw.random() < level.behind_percent else "none"


def _noise(level: Level, draw: Draw) -> Noise:
    return Noise(level_dbm=round(evenly(draw, level.noise_dbm), 1))


def _ticket(words: Words, mix: Mix, draw: Draw) -> str:
    """What the ticket says: a complaint, or nothing that tells."""
    said = words.complaints.get(mix.theme, ())
    lines = (*said, *words.routine)
    return str(draw.choice(lines))


def _with_steps(drill: Drill, solution: Solution) -> Drill:
    """A drill with what the expert did sealed in."""
    steps = steps_text(solution, drill)
    return replace(drill, sealed=replace(drill.sealed, steps=steps))
