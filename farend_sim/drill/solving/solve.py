"""The expert at work on a drill: reads, ranks, chooses the next reading, and knows when to stop.

Law: it sees what a trainee sees. Foreign voltage comes first; where it is found, nothing but a
voltmeter goes on the pair. A unit that does not answer its knock is told nothing. Where nothing
that it knows explains the readings it says so, and names nothing.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

from farend_sim.bench.answer import NONE
from farend_sim.drill.drill import Drill
from farend_sim.drill.expert.choice import Choice, choices, settings
from farend_sim.drill.expert.expert import Expert, expert
from farend_sim.drill.expert.looks import TWO_ENDS, Look, Setting
from farend_sim.drill.expert.opinion import Opinion
from farend_sim.drill.solving.settled import SettledPair
from farend_sim.drill.solving.survey import FOREIGN_VOLT, of_ohms, of_volts
from farend_sim.errors import BadFileError
from farend_sim.situation import Situation
from farend_sim.unit.table import PairState

MOST_LOOKS = 16
"""Readings after which the expert gives up: a choice, no source."""


class Hands(Protocol):
    """Somebody at the near end of a pair: the settled circuit, or a bench."""

    @property
    def hears(self) -> bool:
        """Whether the unit answers its knock."""

    def look(self, setting: Setting) -> Look:
        """Take a reading."""


@dataclass(frozen=True, slots=True)
class Asks:
    """What is to be found out, beside what it is and on which conductor."""

    within_m: float | None
    """How close the place has to be; None where it is not asked for [m]."""
    ohm: bool


def asks_of(drill: Drill) -> Asks:
    """What a drill asks for."""
    asks = drill.lesson.asks
    return Asks(drill.within_m if "place" in asks else None, "ohm" in asks)


@dataclass(frozen=True, slots=True)
class Step:
    """One reading, why it was taken, and what was thought after it."""

    look: Look
    nats: float | None
    """What it was expected to tell; None where procedure asks for it."""
    opinion: Opinion | None
    """None while the survey goes on."""


@dataclass(frozen=True, slots=True)
class Solution:
    """How a drill went."""

    steps: tuple[Step, ...]
    opinion: Opinion
    heard: bool
    pinned: bool
    why: str
    """Why it ended."""

    @property
    def looks(self) -> tuple[Look, ...]:
        return tuple(step.look for step in self.steps)


def solve_drill(drill: Drill, told: Callable[[Step], None] = lambda step: None) -> Solution:
    """Work on a drill's own pair, all of it at rest whenever a meter is read."""
    situation = drill.situation
    known = expert(situation, doubt=drill.lesson.doubt, counts=False)
    return solve(known, SettledPair(situation), asks_of(drill), idle_of(drill), told)


def idle_of(drill: Drill) -> PairState:
    """The state in which a pair is read by itself: with nothing beyond the unit on it."""
    return idle_state(drill.situation)


def idle_state(situation: Situation) -> PairState:
    """The same of a situation."""
    return "idle" if situation.scenario.beyond.equipment == "none" else "open"


def solve(
    who: Expert,
    hands: Hands,
    asks: Asks,
    idle: PairState = "idle",
    told: Callable[[Step], None] = lambda step: None,
) -> Solution:
    """Work on a pair until its trouble is pinned down or nothing more would tell.

    Args:
        who: knows record, unit and meters.
        hands: take the readings.
        asks: what is to be found out.
        idle: the state in which the pair is read by itself.
        told: told of each step.

    Raises:
        BadFileError: there is no meter at hand to begin with.
    """
    steps: list[Step] = []
    for setting in survey(who, idle):
        looks = [step.look for step in steps]
        unsafe = setting.meter not in _named(who, "volts") and live(looks, who)
        if not unsafe and (setting.state == idle or hands.hears):
            steps.append(Step(hands.look(setting), None, None))
            told(steps[-1])
    if not steps:
        raise BadFileError("meters: found no ohmmeter, expected one: the expert begins with it")
    looks = [step.look for step in steps]
    now = who.opinion(looks, hands.hears)
    while (next_ := what_next(who, now, looks, hands.hears, asks, idle)) is not None:
        if isinstance(next_, str):
            return Solution(tuple(steps), now, hands.hears, False, next_)
        looks.append(hands.look(next_.setting))
        now = who.opinion(looks, hands.hears)
        steps.append(Step(looks[-1], next_.nats, now))
        told(steps[-1])
    return Solution(tuple(steps), now, hands.hears, True, "pinned down")


def what_next(
    who: Expert, now: Opinion, looks: Sequence[Look], heard: bool, asks: Asks, idle: PairState
) -> Choice | str | None:
    """What to read next; why nothing would help; None where it is pinned down."""
    if not now.misfit.explained:
        return "something else than it knows"
    if now.pinned(asks.within_m, asks.ohm):
        due = proof(who, now, looks, idle)
        return None if due is None else Choice(due, None)
    best = next_best(who, now, looks, heard, asks, idle)
    if best is None or not best.worth or len(looks) >= MOST_LOOKS:
        return "no further reading would tell more"
    return best


def proof(
    expert: Expert, opinion: Opinion, looks: Sequence[Look], idle: PairState
) -> Setting | None:
    """What is still to be read before a pair is called good: its capacitance, beside its ohms.

    A split is perfect in ohms. Common practice, no source.
    """
    if opinion.best.suspect.kind != NONE:
        return None
    taken, farads = {look.setting for look in looks}, _named(expert, "capacitance")[:1]
    due = (Setting(meter=name, across=each, state=idle) for name in farads for each in TWO_ENDS)
    return next((each for each in due if each not in taken), None)


def survey(expert: Expert, idle: PairState) -> list[Setting]:
    """What is read of every pair: foreign voltage first, then the pair alone and told."""
    volts, ohms = _named(expert, "volts")[:1], _named(expert, "ohms")[:1]
    foreign = [each for name in volts for each in of_volts(name, idle)]
    return [*foreign, *(each for name in ohms for each, _ in of_ohms(name, idle))]


def next_best(
    expert: Expert,
    opinion: Opinion,
    looks: Sequence[Look],
    heard: bool,
    asks: Asks,
    idle: PairState = "idle",
) -> Choice | None:
    """The reading that would tell most and was not taken yet; None if there is none."""
    taken = {look.setting for look in looks}
    among = [one for one in settings(expert, heard, live(looks, expert), idle) if one not in taken]
    found = choices(opinion, among, asks.within_m is not None)
    return found[0] if found else None


def live(looks: Sequence[Look], expert: Expert) -> bool:
    """Whether foreign voltage was found."""
    volts = _named(expert, "volts")
    return any(abs(one.value or 0.0) > FOREIGN_VOLT for one in looks if one.setting.meter in volts)


def _named(expert: Expert, kind: str) -> list[str]:
    """The meters of a kind."""
    return [name for name, law in expert.forecast.meters.items() if law.profile.kind == kind]
