"""What a trainee's readings could tell apart: the same acts played where the trouble is another.

The one idea: a reading shows a thing if it would have read otherwise, had the thing been otherwise.
So no table says which meter shows which trouble. The acts are played again on a pair without the
trouble, with it on the other leg, further on, of other ohms; where no reading differs by more than
the meters' accuracy, what was answered was not known.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import Any

from farend_sim.bench.answer import same_resistance
from farend_sim.drill.drill import Part
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.done import Done
from farend_sim.scenario import Scenario
from line_model.meters.cycle import Reading
from line_model.meters.profile import MeterProfile
from line_model.troubles import Leak, Series, Trouble

MOVED_FACTOR = 2.0
"""A place is moved by so many times what it may be off. Invented here."""
OHM_FACTOR = 10.0
"""A resistance becomes so many times as large, or as small. Invented here."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """Which parts of a trouble the readings could show, and which readings did."""

    shown: frozenset[Part]
    told_by: tuple[Done, ...] = ()
    """What came out as it did because of the trouble."""


def evidence(attempt: Attempt, index: int, within_m: float) -> Evidence:
    """What an attempt's readings show of the scenario's trouble number `index`."""
    scenario = attempt.drill.situation.scenario
    without = _with(scenario, index, None)
    tell = tuple(_telling(attempt, without))
    shown: set[Part] = {"kind"} if tell else set()
    trouble = scenario.trouble[index]
    others_of: tuple[tuple[Part, list[Any]], ...] = (
        ("leg", _other_legs(trouble)),
        ("place", _moved(scenario, trouble, MOVED_FACTOR * within_m)),
        ("ohm", _other_ohms(trouble)),
    )
    for part, others in others_of:
        worlds = [_with(scenario, index, other) for other in others]
        if all(map(partial(_differs, attempt), worlds)):
            shown.add(part)
    return Evidence(frozenset(shown), tell)


def evidence_of_none(attempt: Attempt) -> tuple[str, ...]:
    """The usual troubles that an attempt's readings of a good pair would have missed."""
    scenario = attempt.drill.situation.scenario
    missed = []
    for name, trouble in _usual(scenario.plant.length_m / 2):
        if not _differs(attempt, replace(scenario, trouble=(*scenario.trouble, trouble))):
            missed.append(name)
    return tuple(missed)


def evidence_of_unit(attempt: Attempt) -> tuple[Done, ...]:
    """What was done that would have come out otherwise with a sound unit: heard or read."""
    sound = replace(attempt.drill.situation.scenario, unit_faults=())
    meters = attempt.drill.situation.meters
    return tuple(
        here
        for here, there in attempt.in_world(sound)
        if _heard(here) != _heard(there) or _tells(here, there, meters)
    )


def _heard(done: Done) -> list[Any]:
    return [(one["what"], one["pattern"]) for one in done.row.get("heard") or ()]


def _usual(at_m: float) -> Iterator[tuple[str, Trouble]]:
    """A leak between each two conductors, and each leg open, midway."""
    for a, b in (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath")):
        yield f"a leak {a}-{b}", Leak(kind="leak", between=(a, b), at_m=at_m, ohm=1e5)
    yield "an open tip", Series(kind="series", conductor="tip", at_m=at_m)
    yield "an open ring", Series(kind="series", conductor="ring", at_m=at_m)


# -- other worlds ------------------------------------------------------------------------------


def _with(scenario: Scenario, index: int, trouble: Trouble | None) -> Scenario:
    others = list(scenario.trouble)
    others[index : index + 1] = [] if trouble is None else [trouble]
    return replace(scenario, trouble=tuple(others))


def _other_legs(trouble: Any) -> list[Any]:
    """The trouble with tip and ring exchanged; none where that is the same."""
    other = {"tip": "ring", "ring": "tip"}
    if hasattr(trouble, "conductor"):
        leg = other.get(trouble.conductor)
        return [] if leg is None else [replace(trouble, conductor=leg)]
    between = getattr(trouble, "between", None)
    if between is None or {"tip", "ring"} <= set(between):
        return []
    return [replace(trouble, between=tuple(other.get(name, name) for name in between))]


def _moved(scenario: Scenario, trouble: Any, by_m: float) -> list[Any]:
    """The trouble nearer and further, as far as the route goes."""
    names = [each.name for each in fields(trouble) if each.name in ("at_m", "from_m", "to_m")]
    places = {name: at for name in names if (at := getattr(trouble, name)) is not None}
    if not places or trouble.line is not None:
        return []
    room = (-min(places.values()), scenario.plant.length_m - max(places.values()))
    shifts = [by for by in (-by_m, by_m) if room[0] <= by <= room[1]]
    return [replace(trouble, **{name: at + by for name, at in places.items()}) for by in shifts]


def _other_ohms(trouble: Any) -> list[Any]:
    """The trouble with ohms of another class, more and fewer; an open conductor with 10 kohm."""
    for name in ("ohm", "ohm_km"):
        if (ohm := getattr(trouble, name, None)) is not None:
            others = [ohm * factor for factor in (OHM_FACTOR, 1 / OHM_FACTOR)]
            return [
                replace(trouble, **{name: other})
                for other in others
                if name == "ohm_km" or not same_resistance(ohm, other)
            ]
    return [replace(trouble, ohm=1e4)] if isinstance(trouble, Series) else []


# -- readings side by side ---------------------------------------------------------------------


def _telling(attempt: Attempt, world: Scenario) -> Iterator[Done]:
    """The readings that come out otherwise in a world."""
    meters = attempt.drill.situation.meters
    for here, there in attempt.in_world(world):
        if _tells(here, there, meters):
            yield here


def _differs(attempt: Attempt, world: Scenario) -> bool:
    """Whether any reading does: the world goes on no further than to the first."""
    return next(_telling(attempt, world), None) is not None


def _tells(here: Done, there: Done, meters: Mapping[str, MeterProfile]) -> bool:
    """Whether two readings differ by more than two meters of the kind may."""
    a, b = here.after.reading, there.after.reading
    if not here.settled or a is None or b is None or "shown" not in there.row:
        return False
    if not (b.settled or _found_something(a, meters[a.meter])):
        return False
    if a.value is None or b.value is None:
        return a.value is not b.value or a.shown != b.shown
    profile = meters[a.meter]
    return abs(a.value - b.value) > profile.within(a) + profile.within(b)


def _found_something(reading: Reading, profile: MeterProfile) -> bool:
    """Whether a meter that drives nothing shows more than nothing, and holds it.

    What fades tells of the past: the pair's own charge. So a reading at rest is held against one
    that would not have been only where there was something that stays.
    """
    value = reading.value
    return not profile.DRIVES and value is not None and abs(value) > profile.within(reading)
