"""What must hold in a meter's file beyond its single keys: every number has a source."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from farend_sim.errors import Problem
from line_model.meters.profile import MeterProfile


def problems(meter: MeterProfile) -> tuple[Problem, ...]:
    """Every fault of a meter whose keys are sound one by one."""
    return tuple(_unsourced(meter))


def sourced(meter: MeterProfile) -> tuple[str, ...]:
    """The keys with numbers; a table or a list of them may share one source."""
    return tuple(
        each.name
        for each in fields(meter)
        if each.name != "format" and _has_numbers(getattr(meter, each.name))
    )


def _has_numbers(value: object) -> bool:
    many = isinstance(value, tuple) and bool(value)
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return number or many or is_dataclass(value)


def _unsourced(meter: MeterProfile) -> Iterator[Problem]:
    for key in sourced(meter):
        if not meter.source.get(key, "").strip():
            yield Problem(f"source.{key}", "no source", f"where {key} is from")
