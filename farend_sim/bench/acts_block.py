"""What the steps at a block do: clip a post, probe one, pinch one; tie a good pair at the far end.

Law: a row says what leads and probe get, never which pair is the right one. All of it takes time.
"""

import re
from collections.abc import Callable
from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.bench import Bench
from farend_sim.bench.probe import Across, Probed, probed
from farend_sim.bench.rows import Row, refused
from farend_sim.bench.whereabouts import NEAR
from line_model.neighbours import leg_of, named

CLIP_S = 5.0
PROBE_S = 4.0
PINCH_S = 6.0
TIE_S = 60.0
"""To find a post and put the leads on; to hold a probe over a whole beat of the tone and its gap;
to pinch and hear it both ways; for a helper to tie two legs [s]. Invented for the demo."""
IN_USE = ("working", "talking")
SHORTED = "a line in use was shorted: volts and the ear come first"
NOT_CLIPPED = "the leads are on no pair: clip POST first"


def unclipped(bench: Bench, step: s.Step) -> Row | None:
    """Why a step that asks for leads on a pair cannot be done; None where it can."""
    at_block = bench.pair.where.spot.place == NEAR
    if at_block and bench.pair.clipped is None and isinstance(step, NEEDS_PAIR):
        return refused(NOT_CLIPPED)
    return None


def out_of_reach(bench: Bench, across: str) -> str | None:
    """Why a meter's leads cannot go on the neighbours' legs that they name; None where they can."""
    legs = (leg_of(word) for word in re.split("[-+= ]", across))
    for name in (leg[0] for leg in legs if leg):
        if name not in bench.situation.scenario.neighbours:
            return no_such_neighbour(bench, name)
        if bench.pair.where.spot.place != NEAR:
            return "the neighbours end at the near end, and you are not there"
    return None


def no_such_neighbour(bench: Bench, name: str) -> str:
    """Why nothing can be done with it."""
    there = ", ".join(sorted(bench.situation.scenario.neighbours)) or "none"
    return f"no neighbour is named {name!r}; there are {there}"


def why_not(bench: Bench, post: int) -> str | None:
    """Why nothing can be done at a post now."""
    block = bench.situation.scenario.block
    if block is None:
        return "there is no block here: the pair is clipped from the start"
    if bench.pair.where.spot.place != NEAR:
        return "the block is at the near end, and you are not"
    if post > block.posts:
        return f"the block has posts 1 to {block.posts}"
    return None


def clip(bench: Bench, step: s.Clip) -> Row:
    if (why := why_not(bench, step.post)) is not None:
        return refused(why)
    if bench.keypad.sending:
        return refused("keys are still sounding")
    _let_pass(bench, CLIP_S)
    bench.clip(_name(bench, step.post))
    return _at(bench, step.post)


def probe(bench: Bench, step: s.Probe) -> Row:
    if (why := why_not(bench, step.post)) is not None:
        return refused(why)
    _let_pass(bench, PROBE_S)
    got = _probed(bench, step.post, pinched=False)
    place = _HELD[step.leg]
    at = got[place]
    return {
        **_at(bench, step.post),
        "across": place,
        "level_dbm": at.level_dbm,
        "sounds": at.sounds,
    }


def pinch(bench: Bench, step: s.Pinch) -> Row:
    if (why := why_not(bench, step.post)) is not None:
        return refused(why)
    _let_pass(bench, PINCH_S)
    before, pinched = (_probed(bench, step.post, pinched=held) for held in (False, True))
    sounds = {
        place: {"level_dbm": before[place].level_dbm, "pinched_dbm": pinched[place].level_dbm}
        for place in before
    }
    return {**_at(bench, step.post), "probe": sounds, **_caution(bench, step.post)}


def tie(bench: Bench, step: s.Tie) -> Row:
    if step.neighbour not in bench.situation.scenario.neighbours:
        return refused(no_such_neighbour(bench, step.neighbour))
    if bench.pair.unit.tied is not None:
        return refused("a pair is tied on already")
    _let_pass(bench, TIE_S)
    bench.tie((step.neighbour, step.leg))
    return {}


def untie(bench: Bench, step: s.Untie) -> Row:
    if bench.pair.unit.tied is None:
        return refused("nothing is tied on")
    _let_pass(bench, TIE_S)
    bench.tie(None)
    return {}


_HELD: dict[str | None, Across] = {None: "tip-ring", "tip": "tip-sheath", "ring": "ring-sheath"}


def _name(bench: Bench, post: int) -> str:
    block = bench.situation.scenario.block
    assert block is not None
    return block.at(post, bench.situation.scenario.plant)


def _caution(bench: Bench, post: int) -> Row:
    """Who shorts a line in use is told, as a spark and a voice would tell."""
    in_use = named(bench.situation.scenario.plant, _name(bench, post)).state in IN_USE
    return {"caution": SHORTED} if in_use else {}


def _probed(bench: Bench, post: int, pinched: bool) -> dict[Across, Probed]:
    return probed(bench.pair, bench.unit.sound, _name(bench, post), pinched)


def _at(bench: Bench, post: int) -> Row:
    """Which post, and whether the record says that it is the pair's."""
    block = bench.situation.scenario.block
    assert block is not None
    return {"post": post, "recorded": post == block.recorded}


def _let_pass(bench: Bench, seconds: float) -> None:
    bench.advance_to(bench.now_us + round(seconds * 1e6))


ACTS: dict[type, Callable[[Bench, Any], Row]] = {
    s.Clip: clip,
    s.Probe: probe,
    s.Pinch: pinch,
    s.Tie: tie,
    s.Untie: untie,
}
"""What each step does, for the transcript's table."""

UNHEARD = (s.Clip, s.Probe, s.Pinch)
"""Meanwhile the ear is at the probe, or on no pair."""
NEEDS_PAIR = (s.Lift, s.Restore, s.MeterOn, s.Near, s.Keys, s.Read)
"""Steps that ask for leads on a pair, where there is a block."""
