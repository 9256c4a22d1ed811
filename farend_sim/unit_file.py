"""A unit file as a whole: the unit's own tables and its receiver's."""

from collections.abc import Iterator
from dataclasses import MISSING, dataclass, field, fields
from typing import Literal

from farend_sim.control.limits import ReceiverLimits
from farend_sim.errors import Problem, unsourced
from farend_sim.unit.profile import Electrical, Timing


@dataclass(frozen=True, slots=True)
class Receiver(ReceiverLimits):
    """The receiver's figures with their sources, as the file has them."""

    source: dict[str, str] = field(default_factory=dict, hash=False, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFile:
    """What one kind of unit is made of, how fast it is and what it hears."""

    format: Literal[1]
    title: str
    about: str = ""
    electrical: Electrical
    timing: Timing
    receiver: Receiver = field(default_factory=Receiver)


def problems(unit: UnitFile) -> tuple[Problem, ...]:
    """Every number of a unit has a source beside it, and limits leave room between them."""
    return (
        *_unsourced("electrical", unit.electrical),
        *_unsourced("timing", unit.timing),
        *_unsourced("receiver", unit.receiver),
        *_limits(unit.receiver),
    )


def _unsourced(path: str, table: Electrical | Timing | Receiver) -> Iterator[Problem]:
    """Numbers without a source; a receiver's default has its source where it is defined."""
    stated = (
        each.name
        for each in fields(table)
        if each.default is MISSING or getattr(table, each.name) != each.default
    )
    yield from unsourced(table.source, (key for key in stated if key != "source"), f"{path}.")


def _limits(limits: ReceiverLimits) -> Iterator[Problem]:
    """What is always taken and what never is must not overlap."""
    if limits.tone_reject_ms >= limits.tone_accept_ms:
        expected = f"less than tone_accept_ms, which is {limits.tone_accept_ms:g}"
        yield Problem("receiver.tone_reject_ms", f"{limits.tone_reject_ms:g}", expected)
    if limits.frequency_reject_percent <= limits.frequency_accept_percent:
        found = f"{limits.frequency_reject_percent:g}"
        expected = f"more than frequency_accept_percent ({limits.frequency_accept_percent:g})"
        yield Problem("receiver.frequency_reject_percent", found, expected)
    if limits.floor_dbm >= limits.ceiling_dbm:
        expected = f"less than ceiling_dbm, which is {limits.ceiling_dbm:g}"
        yield Problem("receiver.floor_dbm", f"{limits.floor_dbm:g}", expected)
