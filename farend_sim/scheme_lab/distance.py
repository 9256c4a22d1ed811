"""How many slips lie between what is meant and something else, and the worst pair of slips.

Law: a cheapest way through (key to come, moment, slips so far), so that no pair of slips is missed.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heappop, heappush

from farend_sim.scheme_lab.automaton import Place
from farend_sim.scheme_lab.model import Model, Moment
from farend_sim.scheme_lab.words import Did, Word, argument, words
from farend_sim.unit.table import Input, State

CHANCE = {"wrong": 0.01, "missing": 0.005, "doubled": 0.005, "swapped": 0.002, "extra": 0.002}
"""Of a slip at one key, in a hurry. Source: invented for the demo; only the order is plausible."""
PRICE = {Input.STATUS: 0.001, Input.SET_HOLD: 0.1, Input.RELEASE: 0.3}
"""What it costs when this is done and was not meant; 1 for a function. Source: a choice: a state
told is only a puzzle, a hold of another length costs minutes, an unknown strap costs a day."""
MOST_SLIPS = 2


@dataclass(frozen=True, slots=True)
class Detour:
    """The worst way from a meant command to another."""

    meant: Word
    keyed: str
    did: Did
    slips: int
    chance: float
    """Of exactly these slips in one dial; the keys hit right are taken as sure."""
    price: float

    @property
    def risk(self) -> float:
        """Chance times price: what makes one detour worse than another."""
        return self.chance * self.price


@dataclass(frozen=True, slots=True)
class _Along:
    """Somewhere on the way."""

    at: int
    """The next key that is meant."""
    moment: Moment
    slips: int
    keyed: str
    did: Did | None = None
    """What has been done instead of what was meant; the way ends there."""


_START = _Along(0, Moment(State.IDLE, Place()), 0, "")


def detours(model: Model, most_values: int = 3) -> tuple[Detour, ...]:
    """For each command the worst way of one slip and of two, where there are any.

    Args:
        model: scheme and unit.
        most_values: of an argument, so many are meant, evenly spread.
    """
    best: dict[tuple[int, int], Detour] = {}
    for meant in words(model.scheme, most_values):
        keys = model.scheme.knock + meant.keys
        for detour in _from(model, Word(keys, meant.did)):
            case = meant.did.command, detour.slips
            if case not in best or best[case].risk < detour.risk:
                best[case] = detour
    return tuple(best[case] for case in sorted(best))


def distance(found: tuple[Detour, ...]) -> int:
    """The fewest slips to something else; one more than was looked for where none is found."""
    return min((each.slips for each in found), default=MOST_SLIPS + 1)


def _from(model: Model, meant: Word) -> Iterator[Detour]:
    """The worst detour of each number of slips, for one word."""
    ahead: list[tuple[float, int, _Along]] = [(0.0, 0, _START)]
    seen: set[tuple[int, Moment, int, str, Did | None]] = set()
    found: set[int] = set()
    pushed = 0
    while ahead and len(found) < MOST_SLIPS:
        cost, _, along = heappop(ahead)
        tail = along.keyed[-len(meant.did.value) - 2 :] if meant.did.value else ""
        case = along.at, along.moment, along.slips, tail, along.did
        if case in seen or along.slips in found:
            continue
        seen.add(case)
        if along.did is not None:
            found.add(along.slips)
            price = _harm(model, along.did)
            yield Detour(meant, along.keyed, along.did, along.slips, math.exp(-cost) / price, price)
            continue
        for kind, keys, onward in _next(model, meant.keys, along):
            moment, did, keyed = _keyed(model, along, keys)
            if did != meant.did:
                slips = along.slips + (kind != "")
                pushed += 1
                price = cost + _price(model, kind)
                if did is not None:
                    price -= math.log(_harm(model, did))
                heappush(ahead, (price, pushed, _Along(onward, moment, slips, keyed, did)))


def _harm(model: Model, did: Did) -> float:
    return PRICE.get(model.scheme.commands[did.command].input, 1.0)


def _price(model: Model, kind: str) -> float:
    """Minus the logarithm of a slip's chance; which wrong key it is, is shared out evenly."""
    if not kind:
        return 0.0
    share = len(model.keys) - 1 if kind in ("wrong", "extra") else 1
    return -math.log(CHANCE[kind] / share)


def _next(model: Model, meant: str, along: _Along) -> Iterator[tuple[str, str, int]]:
    """What may be keyed next, by the kind of slip, and the key that is meant after it."""
    at = along.at
    here = meant[at : at + 1]
    if here:
        yield "", here, at + 1
    if along.slips == MOST_SLIPS:
        return
    for other in model.keys:
        if here and other != here:
            yield "wrong", other, at + 1
        if other != here:
            yield "extra", other, at
    if here:
        yield "missing", "", at + 1
        yield "doubled", here * 2, at + 1
    if len(meant) > at + 1 and here != meant[at + 1]:
        yield "swapped", meant[at + 1] + here, at + 2


def _keyed(model: Model, along: _Along, keys: str) -> tuple[Moment, Did | None, str]:
    """Key on until a command is taken."""
    moment, keyed = along.moment, along.keyed
    for key in keys:
        keyed += key
        _, moment, act, _ = model.key(moment, key)
        if act is not None and act.command >= 0:
            return moment, Did(act.command, argument(model.scheme, act.command, keyed)), keyed
    return moment, None, keyed
