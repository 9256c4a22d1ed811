"""How many slips lie between what is meant and something else, and the worst pair of slips.

Law: every slip of every slip of a word is played, so that no pair is missed; of an argument some
values stand for all, and the report says so.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from farend_sim.scheme_lab.check.model import START, Model
from farend_sim.scheme_lab.check.slip_matrix import slipped
from farend_sim.scheme_lab.check.words import Did, Word, argument, words
from farend_sim.scheme_lab.population import Fingers
from farend_sim.scheme_lab.slips import chances
from farend_sim.unit.table import Input

_HASTY = Fingers(source="the defaults of a population: invented for the demo")
CHANCE = chances(_HASTY, _HASTY.slip_percent[1])
"""Of a slip at one key, by those who slip most."""
PRICE = {Input.STATUS: 0.001, Input.SET_HOLD: 0.1, Input.RELEASE: 0.3}
"""What it costs when this is done and was not meant; 1 for a function. Source: a choice: a state
told is only a puzzle, a hold of another length costs minutes, an unknown strap costs a day."""
_VALUES = 3
"""Of an argument so many are meant, evenly spread. A choice of speed."""
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


def detours(model: Model) -> tuple[Detour, ...]:
    """For each command the worst way of one slip and of two, where there are any."""
    best: dict[tuple[int, int], Detour] = {}
    for meant in words(model.scheme, _VALUES):
        word = Word(model.scheme.knock + meant.keys, meant.did)
        keyed = {word.keys: 1.0}
        for slips in range(1, MOST_SLIPS + 1):
            keyed = _slip_more(model, keyed)
            keyed.pop(word.keys, None)  # slips that undo each other
            worst = _worst(model, word, keyed, slips)
            case = meant.did.command, slips
            if worst is not None and (case not in best or best[case].risk < worst.risk):
                best[case] = worst
    return tuple(best[case] for case in sorted(best))


def distance(found: tuple[Detour, ...]) -> int:
    """The fewest slips to something else; one more than was looked for where none is found."""
    return min((each.slips for each in found), default=MOST_SLIPS + 1)


def chance_of(model: Model, kind: str) -> float:
    """The chance of one slip; any wrong key is as likely, so that no pair is left out."""
    share = len(model.keys) - 1 if kind in ("wrong", "extra") else 1
    return CHANCE[kind] / share


def _slip_more(model: Model, keyed: dict[str, float]) -> dict[str, float]:
    """All that one slip more makes of keys, with the likeliest way's chance."""
    chance = {kind: chance_of(model, kind) for kind in CHANCE}
    more: dict[str, float] = {}
    for keys, before in keyed.items():
        for kind, _, slip in slipped(keys, model.keys):
            likely = before * chance[kind]
            if likely > more.get(slip, 0.0):
                more[slip] = likely
    return more


def _worst(model: Model, meant: Word, keyed: dict[str, float], slips: int) -> Detour | None:
    worst: Detour | None = None
    for keys, done in _all_played(model, keyed):
        for did in done:
            if did == meant.did:
                continue
            price = PRICE.get(model.scheme.commands[did.command].input, 1.0)
            if worst is None or keyed[keys] * price > worst.risk:
                worst = Detour(meant, keys, did, slips, keyed[keys], price)
    return worst


def _all_played(model: Model, keyed: Iterable[str]) -> Iterable[tuple[str, tuple[Did, ...]]]:
    """What keys do, in alphabetical order: each is played from where it leaves the one before."""
    begun: list[tuple[tuple[Did, ...], int]] = [((), model.number(START))]
    before = ""
    for keys in sorted(keyed):
        same, most = 0, min(len(keys), len(before))
        while same < most and keys[same] == before[same]:
            same += 1
        del begun[same + 1 :]
        did, number = begun[-1]
        for n in range(same, len(keys)):
            number, command, _ = model.quick(number, keys[n])
            if command >= 0:
                did = (*did, Did(command, argument(model.scheme, command, keys[: n + 1])))
            begun.append((did, number))
        before = keys
        yield keys, did
