"""Entries of the logbook, made from what came of steps: a note, or a reading as it was shown."""

from collections.abc import Mapping, Sequence
from typing import Any

from farend_sim.bench.steps.reading_words import PLACES

_NOT_WRITTEN = ("start_s", "step", "heard", "value", "over")
"""What a reading's row has and neither its display nor the logbook."""


def entry_of(row: Mapping[str, Any], before: Sequence[Mapping[str, Any]]) -> dict[str, Any] | None:
    """What a step has put into the logbook, if anything, after the rows before it."""
    if "note" in row:
        return {"t_s": row["t_s"], "note": row["note"]}
    if "logged" in row:
        logged = row["logged"]
        same = (one for one in reversed(before) if logged.items() <= one.items())
        # a reading that was over while the step before lasted may have no row yet
        return _as_shown(next(same, {"t_s": row["t_s"], **logged, "unit": ""}))
    return None


def _as_shown(reading: Mapping[str, Any]) -> dict[str, Any]:
    stands_still = is_number(reading["shown"])
    return {
        key: round(value, 3) if key in PLACES else value
        for key, value in reading.items()
        if value is not None and key not in _NOT_WRITTEN and (stands_still or key not in PLACES)
    }


def is_number(shown: str) -> bool:
    """Whether a display shows one number that stands still."""
    return bool(shown) and set(shown) <= set("0123456789.-") and ".." not in shown
