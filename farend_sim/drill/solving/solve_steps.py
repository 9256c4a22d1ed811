"""What the expert did, as steps that the bench can play: keys, holds and meters in their order.

Law: a step says only what a person at the near end does. Every hold is dialled anew and left to
end, so that nothing depends on whether the unit hears a release.
"""

from collections.abc import Iterator

from farend_sim.drill.drill import Drill
from farend_sim.drill.expert.looks import TWO_ENDS, Setting
from farend_sim.drill.solving.opinion_text import answer_words
from farend_sim.drill.solving.solve import Solution
from farend_sim.situation import Situation
from farend_sim.unit.keying import dialled
from farend_sim.unit.scheme import Scheme

LISTEN_S = 2.0
"""For a reply. Common practice, no source."""
DRAIN_S = 3.0
"""With both legs to ground. Common practice, no source."""
SETTLE_S = 12.0
"""Before a display on a pair without a strap is believed. Common practice, no source."""
GUARD_S = 4.0
"""After a hold's end, until the unit has said so. Common practice, no source."""


def steps_text(solution: Solution, drill: Drill) -> str:
    """The steps that take a solution's looks, one a line, and its answers."""
    return "\n".join(_steps(solution, drill)) + "\n"


def _steps(solution: Solution, drill: Drill) -> Iterator[str]:
    situation = drill.situation
    behind = situation.scenario.behind.equipment != "none"
    if behind:
        yield "lift"
        # what the office has left on the pair is drained before volts are believed
        yield "near ground"
        yield f"wait {DRAIN_S:g}"
        yield "near clear"
    yield from _foreign_ac(situation)
    zeroed: set[str] = set()
    for state, group in _by_state([look.setting for look in solution.looks]):
        if state != "idle":
            yield from _dialled(situation.scheme, state)
        for setting in group:
            yield f"meter {setting.meter} {setting.across}"
            if situation.meters[setting.meter].ZEROES and setting.meter not in zeroed:
                yield "zero"
                zeroed.add(setting.meter)
            if state == "idle":
                # legs that end in the air settle through the meter alone
                yield f"wait {SETTLE_S:g}"
            yield "read"
            yield "log"
        yield "meter off"
        if state != "idle":
            hold_s = situation.scheme.command_for(state).hold_s
            assert hold_s is not None
            yield f"listen {hold_s + GUARD_S:g}"
    for answer in solution.opinion.best.answers():
        yield f"answer {answer_words(answer, drill.lesson.asks)}"
    if behind:
        yield "restore"


def _foreign_ac(situation: Situation) -> Iterator[str]:
    """Foreign AC is looked for before anything drives the pair, though no suspect needs it."""
    for name, meter in situation.meters.items():
        if meter.kind == "ac-volts":
            for across in TWO_ENDS:
                yield from (f"meter {name} {across}", "read", "log")
            yield "meter off"


def _by_state(settings: list[Setting]) -> Iterator[tuple[str, list[Setting]]]:
    """Looks one hold at a time: a hold is used for one look, idle for as many as follow."""
    idle: list[Setting] = []
    for setting in settings:
        if setting.state == "idle":
            idle.append(setting)
            continue
        if idle:
            yield "idle", idle
            idle = []
        yield setting.state, [setting]
    if idle:
        yield "idle", idle


def _dialled(scheme: Scheme, state: str) -> Iterator[str]:
    for keys in (scheme.knock + scheme.unit_number, dialled(scheme, state)):
        yield f"keys {keys}"
        yield f"listen {LISTEN_S:g}"
