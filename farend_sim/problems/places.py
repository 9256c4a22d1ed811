"""What must hold between the access points of a plant, and between plant and record."""

import re
from collections.abc import Iterator

from farend_sim.errors import Problem, once, unknown
from farend_sim.scenario import Scenario
from line_model.plant import Plant

ENDS = ("near", "far")
"""Both ends of the pair are places too, and have these names."""
_A_NUMBER = re.compile(r"[-+.\d].*")


def problems(scenario: Scenario) -> Iterator[Problem]:
    """Faults of the access points of the plant and of its record."""
    yield from _access(scenario.plant, "plant")
    record = scenario.record
    if record is None:
        return
    yield from _access(record, "record")
    known = {access.name for access in scenario.plant.access}
    said = {access.name for access in record.access}
    for index, access in enumerate(record.access):
        if access.name not in known:
            names = ", ".join(sorted(known)) or "it has none"
            expected = f"an access point of the plant: {names}"
            yield unknown(f"record.access[{index}].name", access.name, known, expected)
    for index, access in enumerate(scenario.plant.access):
        if record.access and access.name not in said:
            found = f"{access.name!r}, of which the record says nothing"
            yield Problem(f"plant.access[{index}].name", found, "a [[record.access]] of that name")
        elif not record.access and access.at_m >= record.length_m:
            found = f"{access.at_m:.9g}, past the end of the record"
            expected = (
                f"a place before {record.length_m:.9g} m, or a [[record.access]] of that name"
            )
            yield Problem(f"plant.access[{index}].at_m", found, expected)


def _access(plant: Plant, table: str) -> Iterator[Problem]:
    """Each access point has a name and a place of its own, inside the route."""
    names = (access.name for access in plant.access)
    yield from once(f"{table}.access", names, again=", a second access point of that name")
    for index, access in enumerate(plant.access):
        path = f"{table}.access[{index}]"
        yield from _name(access.name, f"{path}.name")
        if any(access.name == tap.name for tap in plant.tap):
            found = f"{access.name!r}, a tap's name"
            yield Problem(f"{path}.name", found, "another name: a repair goes by it")
        if access.at_m >= plant.length_m:
            found = f"{access.at_m:.9g}, past the last place inside the route"
            expected = f"a place before its end, which is at {plant.length_m:.9g} m"
            yield Problem(f"{path}.at_m", found, expected)
        elif any(access.at_m == other.at_m for other in plant.access[:index]):
            found = f"{access.at_m:.9g}, a second access point there"
            yield Problem(f"{path}.at_m", found, "a place of its own")


def _name(name: str, path: str) -> Iterator[Problem]:
    if name in ENDS:
        yield Problem(path, repr(name), "another name: both ends have these already")
    elif _A_NUMBER.fullmatch(name) or " ".join(name.split()) != name:
        expected = "a name that does not begin as a number does, with single spaces at most"
        yield Problem(path, repr(name), expected)
