"""What must hold in a meter's file beyond its single keys: every number has a source."""

from collections.abc import Iterator

from farend_sim.errors import Problem
from line_model.meters.profile import MeterProfile

SOURCED = ("lead_ohm", "accuracy_percent", "accuracy_counts", "cycle", "range")
"""The keys with numbers; a table or list of them may share one source."""


def problems(meter: MeterProfile) -> tuple[Problem, ...]:
    """Every fault of a meter whose keys are sound one by one."""
    return tuple(_unsourced(meter))


def _unsourced(meter: MeterProfile) -> Iterator[Problem]:
    for key in SOURCED:
        if not meter.source.get(key, "").strip():
            yield Problem(f"source.{key}", "no source", f"where {key} is from")
