"""A step's outcome as a technician reads it."""

from collections.abc import Iterator
from typing import Any

from tui.block_words import got, post_words
from tui.reading_words import figures, places, with_unit

_MARGIN = " " * 13


def lines_of(done: dict[str, Any], feet: bool = False) -> list[str]:
    """The lines of one step: when it began, what was typed, and what came of it."""
    return [f"{done['start_s']:>7.1f} s  {done['step']}", *_outcome(done, feet)]


def _outcome(done: dict[str, Any], feet: bool) -> Iterator[str]:
    if (refused := done.get("refused")) is not None:
        yield f"{_MARGIN}refused: {refused}"
    if "post" in done:
        yield from (f"{_MARGIN}{post_words(done)}: {each}" for each in got(done))
    if "found" in done:
        yield _MARGIN + done["found"]
    if "caution" in done:
        yield f"{_MARGIN}caution: {done['caution']}"
    for sound in done.get("heard") or ():
        yield _MARGIN + _sound(sound)
    if "shown" in done:
        yield _MARGIN + _reading(done)
    yield from (_MARGIN + place for place in places(done, feet))
    if (logged := done.get("logged")) is not None:
        yield f"{_MARGIN}in the logbook: {logged['meter']} {logged['across']}: {logged['shown']}"
    if "answered" in done:
        yield _MARGIN + answered_words(done["answered"], feet)
    if (far := done.get("far")) is not None:
        yield _MARGIN + _far(far)


def answered_words(answered: dict[str, Any] | None, feet: bool) -> str:
    """What was answered, as it was understood."""
    if answered is None:
        return "what was answered is taken back"
    from farend_sim.bench.answer import Answer
    from farend_sim.drill.verdict_text import said

    return f"answered: {said(Answer(**answered), feet)}"


def _sound(sound: dict[str, Any]) -> str:
    pattern = f" {sound['pattern']}" if sound.get("pattern") else ""
    level = sound.get("level_dbm")
    loud = "" if level is None else f", {level:.1f} dBm"
    return f"hears {sound['what']}{pattern} at {sound['start_s']:.1f} s{loud}"


def _reading(done: dict[str, Any]) -> str:
    """What the display shows; a technician's notes say which meter and where."""
    shown = done["shown"] if done.get("over") else with_unit(done["shown"], done["unit"])
    shown = "; ".join([shown, *figures(done)])
    # Only the far end's view knows whether a display has come to rest.
    wandering = "" if done.get("settled", True) else " (not settled)"
    looking = f", toward the {done['looking']} end" if "looking" in done else ""
    return f"{done['meter']} {done['across']}{looking}: {shown}{wandering}"


def _far(far: dict[str, Any]) -> str:
    closed = ", ".join(far["closed"]) or "none"
    deadline = far.get("deadline_s")
    until = "" if deadline is None else f", until {deadline:.1f} s"
    return f"[unit: {far['state']}; closed: {closed}{until}]"
