"""The steps that can be typed, each with what it does, made for a pair.

Law: it is made from the record, the meters and the block; nothing in it tells of the trouble.
"""

from collections.abc import Iterator

from farend_sim.bench.steps_grammar import VERBS
from farend_sim.situation import Situation

Told = dict[str, str]
NEAR: Told = {
    "meter": "clip a meter across two terminals, or take it off",
    "read": "press its button; a reading takes its time",
    "zero": "take the leads off later ohms",
    "log": "write the reading on the display into the logbook",
    "note": "write a note of your own",
    "keys": "send keys over the pair, meter off; a comma is a second's pause",
    "listen": "hear what comes back",
    "wait": "let time pass",
    "near": "a clip lead at the near end: on, or `near clear`",
    "lift": "take what is behind the near end off the pair",
    "restore": "put it back",
    "answer": "say what is wrong; a later answer on the same legs takes its place",
}
FAR: Told = {"unit": "have the helper at the far end do it"}
ROUTE: Told = {
    "go": "go there; keypad, ear and meter go along",
    "look": "leads toward one side of an open joint",
    "bond": "bond across the sheath before a joint is opened",
    "open-joint": "open both legs of the joint where you are",
    "join": "join a leg of the near side to one of the far side",
}
BLOCK: Told = {
    "clip": "put the leads on a post",
    "probe": "hold the tone probe there: between the legs, or from a leg to the sheath",
    "pinch": "press its legs together meanwhile; never on a pair that may work",
}
GOOD_PAIR: Told = {
    "tie": "have the helper tie a good pair's leg to yours",
    "untie": "have it taken off",
}
REPAIR: Told = {"repair": "dig, or open the joint, and make good what is there"}
TRAINER: Told = {"fault": "put a fault into the unit, or take it out: for a trainer"}


def verbs_text(situation: Situation, *, drill: bool = False) -> str:
    """All steps that this pair has a use for."""
    return "\n".join(_lines(situation, drill))


def _lines(situation: Situation, drill: bool) -> Iterator[str]:
    for told in _groups(situation, drill):
        for name, about in told.items():
            usage = VERBS[name].usage.replace(", and no more", "")
            yield f"  {usage}"
            yield f"      {about}"
    yield f"meters: {', '.join(situation.meters)}"


def _groups(situation: Situation, drill: bool) -> Iterator[Told]:
    scenario = situation.scenario
    yield NEAR
    yield FAR
    if scenario.recorded.access:
        yield ROUTE
    yield REPAIR
    if scenario.block is not None:
        yield BLOCK
    if any(meter.kind == "bridge" for meter in situation.meters.values()):
        yield GOOD_PAIR
    if not drill:
        yield TRAINER
