"""The words of the steps along the route: `go`, `look`, `open-joint`, `join`, `repair`.

A place is a name, and a name may have spaces: it is the rest of the line. `repair` also takes
metres from the near end, and metres on (`+`) or back (`-`) from a named place; `ft` may follow.
"""

import re
from typing import cast, get_args

from farend_sim.bench import steps
from farend_sim.bench.step_words import Line, MistakeError, choice, number
from farend_sim.feet import FOOT_M
from line_model.joints import Leg, Side

GO = "go PLACE, which is near, far or an access point"
LOOK = "look near or look far"
JOIN = "join A B: A the near side's leg, B the far side's, each tip or ring"
REPAIR = (
    "repair PLACE, repair METRES (from the near end), or repair PLACE +METRES or -METRES; "
    "PLACE is an access point or a tap"
)
LONGEST_M = 1e6
"""Longer than any pair: it only catches slips. Invented here."""
_LENGTH = re.compile(r"([-+]?[\d.]\S*?)(m|ft)?")


def read_go(line: Line) -> steps.Go:
    """Read the words after `go`."""
    return steps.Go(line=line.line, text=line.text, place=_place(line.words, line, GO))


def read_look(line: Line) -> steps.Look:
    """Read the word after `look`."""
    if len(line.words) != 1:
        raise MistakeError(repr(line.text), LOOK)
    side = cast(Side, choice(line.words[0], get_args(Side)))
    return steps.Look(line=line.line, text=line.text, side=side)


def read_join(line: Line) -> steps.Join:
    """Read the two legs after `join`."""
    if len(line.words) != 2:
        raise MistakeError(repr(line.text), JOIN)
    near, far = (cast(Leg, choice(word, get_args(Leg))) for word in line.words)
    return steps.Join(line=line.line, text=line.text, near=near, far=far)


def read_repair(line: Line) -> steps.Repair:
    """Read the place after `repair`."""
    *named, last = line.words or ("",)
    length = _LENGTH.fullmatch(last)
    if length is None or (named and last[0] not in "+-"):
        place = _place(line.words, line, REPAIR)
        return steps.Repair(line=line.line, text=line.text, place=place, by_m=0.0)
    least = -LONGEST_M if named else 0.0
    by_m = number(length[1], least, LONGEST_M, "metres, or feet with ft behind,")
    by_m *= FOOT_M if length[2] == "ft" else 1.0
    return steps.Repair(line=line.line, text=line.text, place=" ".join(named) or None, by_m=by_m)


def _place(words: tuple[str, ...], line: Line, usage: str) -> str:
    if not words:
        raise MistakeError(repr(line.text), usage)
    return " ".join(words)
