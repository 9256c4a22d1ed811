"""What must hold in a meter's file beyond its single keys: sources, ranges that rise, limits."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from itertools import pairwise

from farend_sim.errors import Problem, unsourced
from line_model.meters.profile import Level, MeterProfile


def problems(meter: MeterProfile) -> tuple[Problem, ...]:
    """Every fault of a meter whose keys are sound one by one."""
    return (*unsourced(meter.source, sourced(meter)), *_ranges(meter), *_limits(meter))


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


def _ranges(meter: MeterProfile) -> Iterator[Problem]:
    """A meter that ranges goes upwards, so each range must reach further than the one before."""
    ranges = getattr(meter, "range", ())
    for index, (before, here) in enumerate(pairwise(ranges), start=1):
        key = fields(here)[0].name
        full, last = getattr(here, key), getattr(before, key)
        if full <= last:
            yield Problem(
                f"range[{index}].{key}", f"{full:g}", f"more than {last:g}, as ranges rise"
            )


def _limits(meter: MeterProfile) -> Iterator[Problem]:
    if isinstance(meter, Level) and meter.least_dbm >= meter.most_dbm:
        expected = f"more than least_dbm, which is {meter.least_dbm:g}"
        yield Problem("most_dbm", f"{meter.most_dbm:g}", expected)
