"""What can be done along the route and what an answer may say: choices for questions, as steps."""

from collections.abc import Iterator

from farend_sim.bench.pair.whereabouts import Whereabouts
from farend_sim.bench.steps.answer_words import SPOKEN
from farend_sim.said import length
from line_model.troubles import KINDS
from tui.questions import Answers

ELSEWHERE = "repair"
"""The choice that asks for a place."""


def ways(where: Whereabouts, feet: bool) -> Answers:
    """What a technician may do now along the route: the steps, and how they read.

    Law: distances are the record's, right or wrong; nobody else tells them.
    """
    return tuple(_ways(where, feet))


def _ways(where: Whereabouts, feet: bool) -> Iterator[tuple[str, str]]:
    here = where.spot.place
    for place in where.places:
        if place != here:
            at = f", at {length(where.said_m(place), feet)}"
            yield f"go {place}", f"go to {_name(place)}{at}"
    if where.access is not None:
        yield "bond", "bond across the sheath"
        yield "open-joint", "open both legs of the joint"
        for side in ("near", "far"):
            yield f"look {side}", f"leads toward the {side} end"
        for near, far in (("tip", "tip"), ("ring", "ring"), ("tip", "ring"), ("ring", "tip")):
            yield f"join {near} {far}", f"join the near side's {near} to the far side's {far}"
    yield f"repair {here}", f"make good what is here, at {_name(here)}"
    yield ELSEWHERE, "make good what is at another place ..."


def _name(place: str) -> str:
    return f"the {place} end" if place in ("near", "far") else place


KINDS_SAID: Answers = (
    ("none", "nothing is wrong: a good pair"),
    ("short", "short: tip to ring"),
    ("ground", "ground: a leg to the sheath"),
    ("open", "open conductor"),
    *((kind, f"{kind}: {each.ABOUT}") for kind, each in KINDS.items()),
    ("cross", "cross: a leg touches another pair's"),
    ("unit", "unit: the far-end unit itself is at fault"),
)
TAKE_BACK: Answers = (("drop", "take back all that was answered"),)
LEGS_KNOWN = frozenset(kind for kind, answer in SPOKEN.items() if answer.leg)
"""Kinds that are on the same legs wherever they are."""
LEGS_SAID: Answers = (
    ("tip", "tip"),
    ("ring", "ring"),
    ("sheath", "sheath"),
    ("tip-ring", "tip and ring"),
    ("tip-sheath", "tip and sheath"),
    ("ring-sheath", "ring and sheath"),
    ("", "none to name"),
)
ACTIONS_SAID: Answers = (
    ("close", "close the ticket: nothing is wrong"),
    ("repair", "repair it at the place"),
    ("replace", "replace the stretch"),
    ("report", "report: stop, back off, let others see to it"),
    ("change-unit", "have the unit changed"),
    ("", "leave it unsaid"),
)
