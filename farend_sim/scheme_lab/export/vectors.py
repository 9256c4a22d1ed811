"""Test vectors: keys and times in, effects out, to be played against a prototype.

Law: one vector for each way in which the unit, attending or not, can meet a row of its table or a
command, by the shortest way there; effects are the running unit's, each with its time.
"""

from collections.abc import Iterator
from typing import Any

from farend_sim.scheme_lab.check.explore import Way, explore
from farend_sim.scheme_lab.check.model import BY_HAND, Done, Model, Moment
from farend_sim.scheme_lab.check.replay import replay
from farend_sim.unit import codes
from farend_sim.unit.effects import ContactsSet, Effect, Sound
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile

AFTER_US = 5_000_000
"""How long the unit is watched after the last thing that happened to it."""


def vectors(scheme: Scheme, file: UnitFile) -> Iterator[dict[str, Any]]:
    """Every vector, shortest first."""
    compiled = codes.compiled(scheme)
    for about, way in _ways(Model(compiled, scheme.keys)):
        keyed, _ = replay(compiled, file, way)
        happened = [(round(1e6 * each.t_s), each.what) for each in keyed]
        yield {"about": about, **_played(compiled, file, happened)}


def _ways(model: Model) -> Iterator[tuple[str, Way]]:
    """The first way to each case, in the order in which they are found."""
    explored = explore(model)
    seen: set[str] = set()
    for at, step in explored.steps():
        about = _about(at, step)
        if about and about not in seen:
            seen.add(about)
            yield about, explored.way(at, step.symbol)


def _about(at: Moment, step: Done) -> str:
    """A case in words; empty where the table is not asked."""
    if step.act is None:
        return ""
    attends = " attending" if at.place.attentive else ""
    return f"{at.state.value}{attends}: {step.act.input.value}"


def _played(
    scheme: codes.CompiledScheme, file: UnitFile, happened: list[tuple[int, str]]
) -> dict[str, Any]:
    """What happens, and what comes of it; timers come by themselves."""
    unit = Unit(scheme, file.timing, file.electrical.tone_hz)
    came: list[dict[str, Any]] = []

    def live(until_us: int) -> None:
        while (due_us := unit.deadline_us) is not None and due_us <= until_us:
            came.extend(effect_json(due_us, each) for each in unit.wake(due_us))

    given: list[dict[str, Any]] = []
    for at_us, what in happened:
        if what not in BY_HAND and len(what) > 1:
            continue
        live(at_us - 1)
        event = BY_HAND.get(what, DigitHeard(what))
        came.extend(effect_json(at_us, each) for each in unit.handle(event, at_us))
        given.append({"t_us": at_us, "act" if what in BY_HAND else "key": what})
    end_us = happened[-1][0] + AFTER_US
    live(end_us)
    return {
        "given": given,
        "until_us": end_us,
        "effects": came,
        "state": unit.state.value,
        "attentive": unit.attentive,
    }


def effect_json(at_us: int, effect: Effect) -> dict[str, Any]:
    """One effect."""
    if isinstance(effect, ContactsSet):
        return {"t_us": at_us, "closed": sorted(contact.value for contact in effect.closed)}
    if isinstance(effect, Sound):
        sound = [[each.hz, each.duration_us] for each in effect.segments]
        return {"t_us": at_us, "sound_hz_us": sound, "repeat": effect.repeat}
    return {"t_us": at_us, "silence": True}
