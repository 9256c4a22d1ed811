"""What a person is told after a step, in one line: only what hands, eyes and ears would know."""

from collections.abc import Mapping
from typing import Any

from farend_sim.bench.steps.transcript import Row

_DONE = {
    "bond": "The sheath is bonded across.",
    "open-joint": "Both legs are open.",
    "untie": "The helper has taken the good pair off.",
    "near clear": "The clip lead is off.",
    "log": "Written into the logbook.",
}
"""What is said of a step that has nothing else to tell."""


def told(row: Row) -> str:
    """A line about what came of a step; empty where all of it is to be seen anyway."""
    if "refused" in row:
        return _sentence(row["refused"])
    if "found" in row:
        return _sentence(row["found"])
    said = _block(row) or _done(row["step"].split())
    if "caution" in row:
        return f"{said} Caution: {row['caution']}.".strip()
    return said


def _done(words: list[str]) -> str:
    match words:
        case ["go", *place]:
            name = " ".join(place)
            return f"You are at {f'the {name} end' if name in ('near', 'far') else name}."
        case ["look", side]:
            return f"The leads look toward the {side} end."
        case ["join", near, far]:
            return f"The near side's {near} is joined to the far side's {far}."
        case ["tie", *_]:
            return "The helper has tied it on."
        case ["answer", *_]:
            return "Answered; a later answer on the same legs takes its place."
    return _DONE.get(" ".join(words), "")


def _block(row: Row) -> str:
    """What leads or probe get at a post."""
    if "post" not in row:
        return ""
    here = f"Post {row['post']}{', the one on the record' if row.get('recorded') else ''}"
    if "probe" in row:
        return f"{here}: " + "; ".join(_pinched(place, of) for place, of in row["probe"].items())
    if "across" in row:
        sounds = f", {row['sounds']}" if row.get("sounds") else ""
        return f"{here}, {row['across']}: {_dbm(row['level_dbm'])}{sounds}"
    return f"{here}: the leads are on."


def _pinched(place: str, of: Mapping[str, Any]) -> str:
    return f"{place} {_dbm(of['level_dbm'])}, pinched {_dbm(of['pinched_dbm'])}"


def _dbm(level_dbm: float | None) -> str:
    return "silence" if level_dbm is None else f"{level_dbm:.0f} dBm"


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
