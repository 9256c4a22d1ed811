"""A step's outcome as a technician reads it."""

from typing import Any

from farend_sim.bench.steps.came_words import came_words

_MARGIN = " " * 13


def lines_of(done: dict[str, Any], feet: bool = False) -> list[str]:
    """The lines of one step: when it began, what was typed, and what came of it."""
    far = [_far(done["far"])] if done.get("far") is not None else []
    below = [_MARGIN + words for words in (*came_words(done, feet), *far)]
    return [f"{done['start_s']:>7.1f} s  {done['step']}", *below]


def _far(far: dict[str, Any]) -> str:
    closed = ", ".join(far["closed"]) or "none"
    deadline = far.get("deadline_s")
    until = "" if deadline is None else f", until {deadline:.1f} s"
    return f"[unit: {far['state']}; closed: {closed}{until}]"
