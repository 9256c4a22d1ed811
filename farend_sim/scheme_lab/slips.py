"""Slips of the finger as a chain over the keys: from each place, what is typed and what is left.

Law: this is the only account of how people slip. The trial draws from it, the check ranks pairs of
slips by it, and whoever wants exact probabilities walks it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from farend_sim.control.keypad import PLACES
from farend_sim.scheme_lab.population import Fingers


@dataclass(frozen=True, slots=True)
class Outcome:
    """One thing that may happen at a key."""

    probability: float
    typed: str
    taken: int
    """How many of the keys meant it uses up."""


@lru_cache(maxsize=64)
def beside(key: str, keys: str) -> tuple[str, ...]:
    """Return the keys of a pad that touch a key, in reading order."""
    y, x = PLACES[key]
    return tuple(
        other
        for other, (down, across) in PLACES.items()
        if other in keys and other != key and max(abs(down - y), abs(across - x)) == 1
    )


def chances(fingers: Fingers, slip_percent: float) -> dict[str, float]:
    """Return how likely each kind of slip is at a key."""
    shares = {
        "wrong": fingers.wrong,
        "missing": fingers.missing,
        "doubled": fingers.doubled,
        "swapped": fingers.swapped,
        "extra": fingers.extra,
    }
    every = sum(shares.values())
    return {kind: slip_percent / 100 * share / every for kind, share in shares.items()}


def outcomes(fingers: Fingers, slip_percent: float, keys: str, at: int, pad: str) -> list[Outcome]:
    """Return all that may happen at one of the keys meant; the probabilities sum to 1.

    Args:
        fingers: the shares of the kinds of slip.
        slip_percent: of keys.
        keys: what is meant.
        at: which key of it is next.
        pad: the keys that there are.
    """
    key, chance = keys[at], chances(fingers, slip_percent)
    near = beside(key, pad)
    out = [Outcome(1 - slip_percent / 100, key, 1), Outcome(chance["missing"], "", 1)]
    out.append(Outcome(chance["doubled"], key + key, 1))
    # the last key has no next one to change places with: that slip does not happen there
    last = at + 1 == len(keys)
    out.append(Outcome(chance["swapped"], *((key, 1) if last else (keys[at + 1] + key, 2))))
    for other in near:
        out.append(Outcome(chance["wrong"] / len(near), other, 1))
        out.append(Outcome(chance["extra"] / len(near), key + other, 1))
    return out


def typed(
    fingers: Fingers, slip_percent: float, keys: str, pad: str, draws: Iterator[float]
) -> str:
    """Return what a finger makes of keys; each key meant takes one draw from 0 to 1."""
    at, made = 0, ""
    while at < len(keys):
        left = next(draws)
        for one in outcomes(fingers, slip_percent, keys, at, pad):
            left -= one.probability
            if left < 0:
                break
        made, at = made + one.typed, at + one.taken
    return made
