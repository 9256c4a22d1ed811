"""A step's outcome as a technician reads it."""

from collections.abc import Iterator
from typing import Any

from farend_sim.feet import FOOT_M

CAUTION = (
    "Simulator: no reading here proves a real pair safe; "
    "local codes and licensed practice come first."
)
_MARGIN = " " * 13


def lines_of(done: dict[str, Any], feet: bool = False) -> list[str]:
    """The lines of one step: when it began, what was typed, and what came of it."""
    return [f"{done['start_s']:>7.1f} s  {done['step']}", *_outcome(done, feet)]


def _outcome(done: dict[str, Any], feet: bool) -> Iterator[str]:
    if (refused := done.get("refused")) is not None:
        yield f"{_MARGIN}refused: {refused}"
    for key in ("found", "caution"):
        if key in done:
            yield f"{_MARGIN}{key}: {done[key]}"
    for sound in done.get("heard") or ():
        yield _MARGIN + _sound(sound)
    if "shown" in done:
        yield _MARGIN + _reading(done)
    if (loop_m := done.get("loop_m")) is not None:
        yield f"{_MARGIN}as a loop of this cable: {_length(loop_m, feet)}"
    if (far := done.get("far")) is not None:
        yield _MARGIN + _far(far)


def _length(length_m: float, feet: bool) -> str:
    return f"{length_m / FOOT_M:.0f} feet" if feet else f"{length_m:.0f} metres"


def _sound(sound: dict[str, Any]) -> str:
    pattern = f" {sound['pattern']}" if sound.get("pattern") else ""
    level = sound.get("level_dbm")
    loud = "" if level is None else f", {level:.1f} dBm"
    return f"hears {sound['what']}{pattern} at {sound['start_s']:.1f} s{loud}"


def _reading(done: dict[str, Any]) -> str:
    """What the display shows; a technician's notes say which meter and where."""
    shown = done["shown"] if done.get("over") else f"{done['shown']} {done['unit']}"
    # Only the far end's view knows whether a display has come to rest.
    wandering = "" if done.get("settled", True) else " (not settled)"
    looking = f", toward the {done['looking']} end" if "looking" in done else ""
    return f"{done['meter']} {done['across']}{looking}: {shown}{wandering}"


def _far(far: dict[str, Any]) -> str:
    closed = ", ".join(far["closed"]) or "none"
    deadline = far.get("deadline_s")
    until = "" if deadline is None else f", until {deadline:.1f} s"
    return f"[unit: {far['state']}; closed: {closed}{until}]"
