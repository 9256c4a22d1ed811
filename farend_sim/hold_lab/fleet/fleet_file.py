"""A fleet as a person writes it down: which meters are used how often, for what, on which plant."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Gt, MinLen

from farend_sim.errors import Problem, unsourced
from farend_sim.files import find
from farend_sim.hold_lab.on_pair.meter_in_use import Used, used_problems
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetMeter(Used):
    share: Above0
    """Of all readings; shares are taken relative to their sum."""
    dials: bool = False
    """Whether its user always dials a hold of its own, so that no default is made for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fleet:
    """Who reads what with which meter. Defaults: invented for the demo."""

    format: Literal[1]
    title: Annotated[str, MinLen(1)]
    scenario: Annotated[str, MinLen(1)] = "good-pair"
    """The plant on which meters settle and on which the unit hears or does not."""
    scheme: str = ""
    """In place of the scenario's."""
    command_s: Above0 | None = None
    """In place of what the scheme comes to."""
    readings_per_day: Above0 = 40.0
    battery_h: Above0 = 100.0
    """Of hold, from one battery."""
    patience: Annotated[int, Gt(0)] = 20
    meter: Annotated[tuple[FleetMeter, ...], MinLen(1)]
    source: dict[str, str]


def load_fleet(name: str) -> Fleet:
    """Read a fleet: a file, or a shipped one by its name.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    return find(Fleet, "fleets", name, lambda fleet: tuple(_problems(fleet)))


def _problems(fleet: Fleet) -> Iterator[Problem]:
    for at, meter in enumerate(fleet.meter):
        yield from used_problems(meter, f"meter[{at}]")
    yield from unsourced(fleet.source, ("share", "readings_per_day", "battery_h"))
    if all(meter.dials for meter in fleet.meter):
        yield Problem("meter", "none that uses the default", "one with dials = false")
