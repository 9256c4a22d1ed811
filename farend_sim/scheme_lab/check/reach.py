"""Whether a person reaches each key within the gap, and has the keys at all."""

import math
from collections.abc import Iterator

from farend_sim.control.keypad import PLACES
from farend_sim.hands import FIND_S, LOOK_UP_S, MOVE_S
from farend_sim.scheme_lab.check.automaton import PAUSE
from farend_sim.scheme_lab.check.explore import Way
from farend_sim.scheme_lab.check.finding import Finding
from farend_sim.scheme_lab.check.words import words
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.scheme import Scheme


def reach_s(one: str, other: str) -> float:
    """From one key to another."""
    return FIND_S + MOVE_S * math.dist(PLACES[one], PLACES[other])


def short_gaps(scheme: Scheme, compiled: CompiledScheme) -> Iterator[tuple[Finding, Way]]:
    """Find the pair of neighbouring keys that needs longest, if that is too long."""
    slowest: tuple[float, str] = (0.0, "")
    way: Way = ()
    for word in words(compiled, 3):
        keys = compiled.knock + word.keys
        command = compiled.commands[word.did.command]
        for at in range(1, len(keys)):
            needed_s = reach_s(keys[at - 1], keys[at])
            check = len(keys) - 1 - len(command.end)
            if word.did.value and command.checked_from is not None and at == check:
                needed_s += LOOK_UP_S
            here = needed_s, f"{keys[at - 1]} to {keys[at]} in {keys}"
            if here > slowest:
                slowest, way = here, (*keys[:at], PAUSE, keys[at])
    if slowest[0] > scheme.gap_s:
        what = f"{slowest[1]} needs {slowest[0]:.1f} s, the longest gap is {scheme.gap_s:g} s"
        yield Finding("short-gap", what), way


def big_pads(compiled: CompiledScheme) -> Iterator[tuple[Finding, Way]]:
    """Tell that a telephone's twelve keys are not enough."""
    needed = [compiled.knock + word.keys for word in words(compiled, 3)]
    if letters := "".join(sorted({*"".join(needed)} & {*"ABCD"})):
        way = next(keys for keys in needed if {*keys} & {*letters})
        yield (
            Finding("big-pad", f"the scheme needs {letters!r}, which no telephone has"),
            tuple(way),
        )
