"""What a trial draws from: plants by class, fingers and keypads, as plain frozen dataclasses.

Law: keys of the file are the names of the fields; a span is [least, most], drawn evenly; every
table has a `source`, even if it is that there is none.
"""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Annotated, Literal

from annotated_types import Ge, Le, MinLen

from farend_sim.errors import Problem
from farend_sim.files import find
from line_model.plant import Gauge

Span = tuple[float, float]
Percent = Annotated[float, Ge(0), Le(100)]
Wrong = Literal["leak", "short", "series", "open-leg", "wet", "battery"]
"""Troubles that a plant of a class may have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantClass:
    """Plants of one kind, and what is on them. Defaults: invented for the demo."""

    name: Annotated[str, MinLen(1)]
    share: Annotated[float, Ge(0)]
    """Of all plants, over the sum of the shares."""
    gauges_awg: Annotated[tuple[Gauge, ...], MinLen(1)]
    sections: Span = (1, 2)
    length_m: Span
    """Of the whole route."""
    temperature_c: Span = (0, 35)
    tap_percent: Percent = 0
    tap_m: Span = (50, 400)
    noise_dbm: Span = (-75, -65)
    induction_percent: Percent = 0
    induction_volt: Span = (1, 10)
    dial_percent: Percent = 0
    """Plants with dial tone on them while somebody dials: an office beyond, and the loop held."""
    in_hold_percent: Percent = 0
    """Jobs that begin while the unit holds something that somebody else had asked for."""
    after_hold_percent: Percent = 0
    """Jobs that begin just after somebody at the unit has ended such a hold by its button."""
    troubles: tuple[Wrong, ...] = ()
    """One of these is on each plant; on none if it is empty."""
    source: Annotated[str, MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fingers:
    """How people dial. Defaults: invented for the demo."""

    on_ms: Span = (60, 140)
    """A person's own time on a key."""
    off_ms: Span = (60, 250)
    spread_percent: Annotated[float, Ge(0), Le(50)] = 15
    """From key to key, about the person's own."""
    slip_percent: Span = (0.2, 2)
    """Of keys."""
    wrong: Annotated[float, Ge(0)] = 4
    """Shares of the kinds of slip: a key beside the right one, one left out, one pressed twice, two
    in the wrong order, one beside it touched as well."""
    missing: Annotated[float, Ge(0)] = 2
    doubled: Annotated[float, Ge(0)] = 2
    swapped: Annotated[float, Ge(0)] = 1
    extra: Annotated[float, Ge(0)] = 1
    listens_percent: Percent = 50
    """People who wait for the knock's reply before they go on."""
    react_s: Span = (0.3, 0.9)
    patience_s: Annotated[float, Ge(1), Le(30)] = 3
    tries: Annotated[int, Ge(1), Le(10)] = 3
    source: Annotated[str, MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Senders:
    """How keypads sound. Defaults: invented for the demo."""

    level_dbm: Span = (-10, -4)
    twist_db: Span = (0, 4)
    frequency_error_percent: Span = (-1.2, 1.2)
    source: Annotated[str, MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Population:
    """Everything that a trial draws from."""

    format: Literal[1]
    title: str
    about: str = ""
    plants: Annotated[tuple[PlantClass, ...], MinLen(1)]
    fingers: Fingers
    senders: Senders


_FLOOR = {"length_m": 1.0, "sections": 1.0, "tap_m": 1.0, "induction_volt": 0.001}
_FLOOR |= {"on_ms": 1.0, "off_ms": 1.0, "slip_percent": 0.0, "react_s": 0.0, "noise_dbm": -150.0}
_FLOOR |= {"level_dbm": -80.0, "twist_db": -20.0, "frequency_error_percent": -10.0}
_FLOOR |= {"temperature_c": -60.0}
_CEILING = {"noise_dbm": 10.0, "temperature_c": 90.0, "length_m": 30_000.0, "sections": 6.0}
_CEILING |= {"on_ms": 5000.0, "off_ms": 5000.0, "slip_percent": 50.0, "react_s": 60.0}
_CEILING |= {"level_dbm": 10.0, "twist_db": 20.0, "frequency_error_percent": 10.0}


def find_population(name_or_path: str) -> Population:
    """Read what a trial draws from, as a person names it: a shipped name, or any path."""
    return find(Population, "populations", name_or_path, problems)


def problems(population: Population) -> tuple[Problem, ...]:
    """Return what must hold between keys and does not."""
    found = [
        *_spans("fingers", population.fingers),
        *_spans("senders", population.senders),
        *(
            problem
            for at, one in enumerate(population.plants)
            for problem in _spans(f"plants[{at}]", one)
        ),
    ]
    if sum(one.share for one in population.plants) <= 0:
        found.append(Problem("plants", "shares that come to nothing", "one share over 0"))
    for at, one in enumerate(population.plants):
        if (both := one.in_hold_percent + one.after_hold_percent) > 100:
            path = f"plants[{at}].after_hold_percent"
            found.append(Problem(path, f"{both:g} with in_hold_percent", "100 together at most"))
    names = [one.name for one in population.plants]
    if len(set(names)) < len(names):
        found.append(Problem("plants", "two of one name", "names that differ"))
    kinds = population.fingers
    if kinds.wrong + kinds.missing + kinds.doubled + kinds.swapped + kinds.extra <= 0:
        found.append(Problem("fingers.wrong", "no kind of slip", "one share over 0"))
    return tuple(found)


def _spans(path: str, table: PlantClass | Fingers | Senders) -> Iterator[Problem]:
    for each in fields(table):
        span, key = getattr(table, each.name), each.name
        if key in ("troubles", "gauges_awg") or not isinstance(span, tuple):
            continue
        low, high = span
        if low > high:
            yield Problem(f"{path}.{key}", f"{low:g} over {high:g}", "the least first")
        least, most = _FLOOR.get(key, -1e9), _CEILING.get(key, 1e9)
        if low < least or high > most:
            yield Problem(f"{path}.{key}", f"[{low:g}, {high:g}]", f"{least:g} to {most:g}")
