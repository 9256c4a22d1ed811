"""What a person is told after a step, in one line: only what hands, eyes and ears would know."""

from farend_sim.bench.steps.post_words import got, post_words
from farend_sim.bench.steps.transcript import Row

_DONE = {
    "bond": "The sheath is bonded across.",
    "open-joint": "Both legs are open.",
    "untie": "The helper has taken the good pair off.",
    "near clear": "The clip lead is off.",
}
"""What is said of a step that has nothing else to tell."""
_UNIT = {
    "wake": "the button is pressed",
    "off": "it is switched off",
    "battery out": "the battery is out",
    "battery in": "the battery is in",
    "clip reversed": "it is clipped on, the clips exchanged",
    "unclip": "the unit is off the pair",
    "ground on": "the ground lead is on",
    "ground off": "the ground lead is off",
}


def came_of(row: Row) -> str:
    """A line about what came of a step; empty where all of it is to be seen anyway."""
    if "refused" in row:
        return _sentence(row["refused"])
    if "found" in row:
        return _sentence(row["found"])
    if "post" in row:
        said = _sentence(f"{post_words(row)}: {'; '.join(got(row))}")
    elif row["step"].split()[0] in ("log", "note"):
        said = f"Written into the logbook at {row['t_s']:.1f} s."
    else:
        said = _done(row["step"].split())
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
        case ["unit", *act]:
            return f"The helper says: {_UNIT.get(' '.join(act), 'the unit is clipped on')}."
        case ["tie", *_]:
            return "The helper has tied it on."
        case ["answer", "drop"]:
            return "What was answered is taken back."
        case ["answer", *_]:
            return "Answered; a later answer on the same legs takes its place."
    return _DONE.get(" ".join(words), "")


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
