"""Neighbour pairs that lie beside a stretch of the pair in the same cable, and how they couple.

Law: what goes to a neighbour's leg is taken out of what went to the sheath, which stands for all
that surrounds a leg. So a neighbour held at the sheath's potential changes nothing, and a plant
that nobody looks at a neighbour of is solved without any.

Between two pairs stand four capacitances, each DIRECT plus or minus a quarter of the pair-to-pair
unbalance (C13 + C24) - (C14 + C23). The unbalance is drawn for each two pairs and section; along a
section it adds up at random, so it grows as the root of the length, as its specified limit does.
"""

import hashlib
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from statistics import NormalDist

from line_model.cable import PerMetre, per_metre
from line_model.plant import Stretch
from line_model.sourced import Sourced

DIRECT = Sourced(200.0, "pF/km", "leg to leg of another pair: invented for the demo")
UNBALANCE_RMS = Sourced(45.3, "pF/km", "pair to pair, rms: ICEA S-84-608, from memory")
UNBALANCE_MOST = Sourced(145.0, "pF/km", "pair to pair, at most: 7 CFR 1755.860(m)(2)")
SHORTEST_KM = 0.05
"""Below this the unbalance a metre grows no more, or a short piece's would pass what is there.
A choice, no source."""
Between = list[tuple[int, int, float]]
"""Two conductors by number, and farad a metre."""
OWN = ""
"""The pair itself, where pairs are named."""


@dataclass(frozen=True, slots=True)
class Beside:
    """Neighbours along a stretch: two conductors each, after tip, ring and sheath."""

    legs: tuple[str, ...]
    """What their legs are called: `NAME.tip`, `NAME.ring`, pair by pair."""
    per_metre: tuple[PerMetre, ...]
    """A neighbour's constants as if it were alone."""
    farad: tuple[tuple[int, int, float], ...]
    """Between legs of different pairs, conductors by number [F/m]."""
    taken_farad: tuple[float, ...]
    """What of each conductor's capacitance to the sheath goes there instead [F/m]."""


ALONE = Beside((), (), (), (0.0, 0.0, 0.0))


def beside(
    section: Stretch, names: tuple[str, ...], plant_temperature_c: float, seed: int, label: str
) -> Beside:
    """The neighbours along a section.

    Args:
        section: as the plant has it, in its whole length.
        names: which neighbours.
        plant_temperature_c: for a section without a temperature of its own [C].
        seed: fixes signs and values.
        label: tells the section from others of the same plant.
    """
    if not names:
        return ALONE
    pair = per_metre(section, plant_temperature_c, seed, label)
    others = tuple(per_metre(section, plant_temperature_c, seed, f"{label}/{n}") for n in names)
    first = {OWN: 0} | {name: 3 + 2 * i for i, name in enumerate(names)}
    between: Between = []
    for (a, i), (b, j) in combinations(first.items(), 2):
        part = unbalance_pf_per_km(seed, label, a, b, section.length_m) / 4
        like, unlike = (1e-15 * (DIRECT.value + sign * part) for sign in (1, -1))
        between += [(i, j, like), (i + 1, j + 1, like), (i, j + 1, unlike), (i + 1, j, unlike)]
    share = _share(between, [pair, *others])
    between = [(i, j, share * farad) for i, j, farad in between]
    legs = tuple(f"{name}.{leg}" for name in names for leg in ("tip", "ring"))
    return Beside(legs, others, tuple(between), tuple(_taken(between, 3 + 2 * len(names))))


def _taken(between: Between, conductors: int) -> list[float]:
    """What each conductor has to legs of other pairs [F/m]."""
    taken = [0.0] * conductors
    for i, j, farad in between:
        taken[i] += farad
        taken[j] += farad
    return taken


def _share(between: Between, pairs: list[PerMetre]) -> float:
    """1, or less where legs have so little to the sheath that it would not do for all."""
    least = min(min(each.tip_sheath_farad, each.ring_sheath_farad) for each in pairs)
    return min(1.0, least / 2 / max(_taken(between, 1 + 2 * len(pairs))))


def unbalance_pf_per_km(seed: int, label: str, a: str, b: str, length_m: float) -> float:
    """Pair-to-pair capacitance unbalance along a section, spread over its length [pF/km]."""
    one, other = sorted((a, b))
    digest = hashlib.sha256(f"{seed}/{label}/{one}/{other}/pairs".encode()).digest()
    share = (int.from_bytes(digest[:6], "big") + 0.5) / 2**48
    drawn = UNBALANCE_RMS.value * NormalDist().inv_cdf(share)
    held = max(-UNBALANCE_MOST.value, min(UNBALANCE_MOST.value, drawn))
    return held / sqrt(max(length_m / 1000, SHORTEST_KM))
