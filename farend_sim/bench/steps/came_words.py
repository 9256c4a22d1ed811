"""What came of a step in a technician's words, a phrase each: nothing is added to its row."""

from collections.abc import Iterator
from typing import Any

from farend_sim.bench.answer import Answer, said
from farend_sim.bench.steps.post_words import got, post_words
from farend_sim.bench.steps.reading_words import figures, places, with_unit


def came_words(row: dict[str, Any], feet: bool = False) -> Iterator[str]:
    """All that a row tells, in the order in which it is to be known."""
    if (refused := row.get("refused")) is not None:
        yield f"refused: {refused}"
    if "post" in row:
        yield from (f"{post_words(row)}: {each}" for each in got(row))
    if "found" in row:
        yield row["found"]
    if "caution" in row:
        yield f"caution: {row['caution']}"
    yield from map(_sound, row.get("heard") or ())
    if "shown" in row:
        yield _reading(row)
    yield from places(row, feet)
    if (logged := row.get("logged")) is not None:
        yield f"in the logbook: {logged['meter']} {logged['across']}: {logged['shown']}"
    if "answered" in row:
        yield answered_words(row["answered"], feet)


def answered_words(answered: dict[str, Any] | None, feet: bool) -> str:
    """What was answered, as it was understood."""
    if answered is None:
        return "what was answered is taken back"
    return f"answered: {said(Answer(**answered), feet)}"


def _sound(sound: dict[str, Any]) -> str:
    pattern = f" {sound['pattern']}" if sound.get("pattern") else ""
    level = sound.get("level_dbm")
    loud = "" if level is None else f", {level:.1f} dBm"
    return f"hears {sound['what']}{pattern} at {sound['start_s']:.1f} s{loud}"


def _reading(row: dict[str, Any]) -> str:
    """What the display shows; a technician's notes say which meter and where."""
    shown = row["shown"] if row.get("over") else with_unit(row["shown"], row["unit"])
    shown = "; ".join([shown, *figures(row)])
    # Only the far end's view knows whether a display has come to rest.
    wandering = "" if row.get("settled", True) else " (not settled)"
    looking = f", toward the {row['looking']} end" if "looking" in row else ""
    return f"{row['meter']} {row['across']}{looking}: {shown}{wandering}"
