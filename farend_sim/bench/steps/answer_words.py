"""The words of the step `answer`: a trade word for a trouble, its leg, place and resistance.

`answer none` says that the pair is good; `answer drop` takes back what was answered before.
"""

import math
from dataclasses import replace
from typing import cast, get_args

from farend_sim.bench.answer import ACTIONS, GOOD_PAIR, KINDS, NONE, Action, Answer, conductors
from farend_sim.bench.steps.words import LONGEST_M, Line, MistakeError, choice, number, options
from line_model.constants import FOOT_M
from line_model.troubles import Conductor

USAGE = (
    "answer none, answer drop, or answer kind=KIND [leg=A-B] [at_m=M or at_ft=FT] "
    "[within_m=M or within_ft=FT] [ohm=OHM] [action=ACTION]"
)
OPTIONS = ("kind", "leg", "at_m", "at_ft", "within_m", "within_ft", "ohm", "action")
SPOKEN: dict[str, Answer] = {
    "short": Answer(kind="leak", leg=("tip", "ring")),
    "ground": Answer(kind="leak"),
    "open": Answer(kind="series", ohm=math.inf),
    "joint": Answer(kind="series"),
}
"""What people say, and what it is in a scenario's words."""
CLASS_OHM = {"short": 1.0, "low": 100.0, "middle": 1e4, "high": 1e7, "open": math.inf}
"""A resistance may be said as its class: the middle of each, by decades."""
MOST_OHM = 1e12
"""More than any leak: it only catches slips. Invented here."""


def read_answer(line: Line) -> Answer | None:
    """Read the words after `answer`; None takes back what was answered before."""
    if line.words in (("drop",), (NONE,)):
        return None if line.words == ("drop",) else GOOD_PAIR
    if not line.words:
        raise MistakeError(repr(line.text), USAGE)
    return _answer(options(line.words, OPTIONS))


def _answer(said: dict[str, str]) -> Answer:
    if "kind" not in said:
        raise MistakeError("no kind=", USAGE)
    kind = choice(said["kind"], (*KINDS, *SPOKEN))
    if kind == NONE and (more := [word for word in said if word not in ("kind", "action")]):
        raise MistakeError(f"{more[0]}= of a good pair", "answer none")
    answer = SPOKEN.get(kind, GOOD_PAIR if kind == NONE else Answer(kind=kind))
    at_m, within_m = _metres(said, "at"), _metres(said, "within")
    if within_m is not None and at_m is None:
        raise MistakeError("within= without a place", "at_m=M or at_ft=FT beside it")
    if "ohm" in said:
        answer = replace(answer, ohm=_ohm(said["ohm"]))
    if "action" in said:
        answer = replace(answer, action=cast(Action, choice(said["action"], ACTIONS)))
    return replace(answer, leg=_leg(said, answer), at_m=at_m, within_m=within_m)


def _leg(said: dict[str, str], answer: Answer) -> tuple[Conductor, ...]:
    if "leg" not in said:
        return answer.leg
    named = said["leg"].replace("+", "-").split("-")
    for name in named:
        choice(name, get_args(Conductor))
    if answer.kind in ("leak", "wet") and len(set(named)) == 1:
        named.append("sheath")  # a leak of one leg is one to the sheath
    return conductors(named)


def _metres(said: dict[str, str], name: str) -> float | None:
    metres, feet = said.get(f"{name}_m"), said.get(f"{name}_ft")
    if metres is not None and feet is not None:
        raise MistakeError(f"{name}_m and {name}_ft", "one of them")
    if feet is not None:
        return number(feet, 0.0, LONGEST_M / FOOT_M, "feet") * FOOT_M
    return None if metres is None else number(metres, 0.0, LONGEST_M, "metres")


def _ohm(word: str) -> float:
    return CLASS_OHM[word] if word in CLASS_OHM else number(word, 0.0, MOST_OHM, "ohms")
