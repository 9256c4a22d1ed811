"""What an expert thinks after some readings: answers, ranked, and whether one is pinned down.

Law: a trouble is pinned down when one answer holds at least SURE of the posterior, explains the
readings, and its place and its ohms are known as well as the answer needs them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from farend_sim.bench.answer import Answer, same_resistance
from farend_sim.drill.expert.forecast import LN_OHM, PLACE, SECOND, VOLT
from farend_sim.drill.expert.hypothesis import Suspect
from farend_sim.drill.expert.likelihood import Belief
from farend_sim.drill.expert.measured import measured, off, route_m
from farend_sim.drill.expert.misfit import Misfit
from farend_sim.drill.expert.mixture import Band, Mixture, band
from line_model.parts import Real

SURE = 0.95
"""A share of the posterior that is taken for certain. Common practice, no source."""
_LEAST_SHARE, _NIL = 1e-3, 1e-9
"""A Gaussian of a smaller part of the largest does not say where a route may end; of what band.
Choices."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """One answer and how likely it is."""

    suspect: Suspect
    share: float
    place: Mixture | None
    place_m: Band | None
    ohm: Band | None
    second_m: Band | None
    second_ohm: Band | None
    """Of the ring, where both legs leak."""
    beliefs: tuple[Belief, ...]
    weights: Real
    """Of each belief within this answer."""

    @property
    def label(self) -> str:
        return self.suspect.label

    def answers(self) -> list[Answer]:
        """What the expert would answer."""
        places = tuple(
            (None, None) if band is None else (band.at, band.half)
            for band in (self.place_m, self.second_m)
        )
        ohms = tuple(None if band is None else band.at for band in (self.ohm, self.second_ohm))
        return self.suspect.answers(places, ohms)

    def knows_place(self, within_m: float) -> bool:
        """Whether the place is known as well as an answer needs it."""
        bands = [band for band in (self.place_m, self.second_m) if band is not None]
        return all(band.half <= within_m for band in bands)

    @property
    def knows_ohm(self) -> bool:
        """Whether the resistance is known to its class."""
        bands = [band for band in (self.ohm, self.second_ohm) if band is not None]
        return all(same_resistance(band.low, band.high) for band in bands)


@dataclass(frozen=True, slots=True)
class Opinion:
    """The ranking after some readings, likeliest first."""

    ranked: tuple[Ranked, ...]
    misfit: Misfit
    """Of the suspect that fits best: whether the ranking is to be believed at all."""
    given_m: float
    """How long the route is on the record that was given."""

    @property
    def best(self) -> Ranked:
        return self.ranked[0]

    @property
    def off(self) -> tuple[str, float]:
        """What the record has most likely wrong, if anything, and how likely that is."""
        weighed = [
            (one.share * float(part), belief)
            for one in self.ranked
            for part, belief in zip(one.weights, one.beliefs, strict=True)
        ]
        shares: dict[str, float] = {}
        likeliest: dict[str, Belief] = {}
        for weight, belief in sorted(weighed, key=lambda each: each[0]):
            of = belief.of.record.off
            shares[of], likeliest[of] = shares.get(of, 0.0) + weight, belief
        of, share = max(shares.items(), key=lambda each: each[1])
        return off(likeliest[of], self.given_m), share

    def pinned(self, within_m: float | None, ohm: bool = True) -> bool:
        """Whether the trouble is pinned down, in what is asked for.

        Args:
            within_m: how close a place has to be; None where none is asked for [m].
            ohm: whether the class of the resistance is asked for.
        """
        best = self.best
        sure = self.misfit.explained and best.share >= SURE
        placed = within_m is None or best.knows_place(within_m)
        return sure and placed and (best.knows_ohm or not ohm)


def ranking(beliefs: Sequence[Belief]) -> tuple[Ranked, ...]:
    """Put beliefs of one answer together, and the likeliest first."""
    best = max(belief.log_evidence for belief in beliefs)
    weight = np.array([np.exp(belief.log_evidence - best) for belief in beliefs])
    weight /= weight.sum()
    groups: dict[str, list[int]] = {}
    for index, belief in enumerate(beliefs):
        groups.setdefault(belief.suspect.label, []).append(index)
    ranked = [_ranked([beliefs[i] for i in group], weight[group]) for group in groups.values()]
    return tuple(sorted(ranked, key=lambda one: -one.share))


def _ranked(beliefs: list[Belief], weight: Real) -> Ranked:
    share = float(weight.sum())
    own = weight / share if share > 0 else np.full(len(beliefs), 1 / len(beliefs))
    first = beliefs[int(own.argmax())].suspect
    place = _places(beliefs, own, [PLACE] * len(beliefs)) if first.placed else None
    ohm = _ohms(_mixture(beliefs, own, LN_OHM)) if first.ohm is not None else None
    second_m = second_ohm = None
    if first.twice:
        second_ohm = _ohms(_mixture(beliefs, own, VOLT))
        columns = [SECOND if belief.suspect.apart else PLACE for belief in beliefs]
        second_m = band(_places(beliefs, own, columns))
    place_m = None if place is None else band(place)
    return Ranked(first, share, place, place_m, ohm, second_m, second_ohm, tuple(beliefs), own)


def _ohms(logarithms: Mixture) -> Band:
    logs = band(logarithms)
    return Band(*(float(np.exp(value)) for value in (logs.at, logs.low, logs.high)))


def _places(beliefs: list[Belief], own: Real, columns: list[int]) -> Mixture:
    """The sum of what each belief says of a place, from the near end to the route's end."""
    each = [measured(*one) for one in zip(beliefs, columns, strict=True)]
    share = _shares(beliefs, own)
    ends_m = np.concatenate([route_m(belief) for belief in beliefs])
    end_m = float(ends_m[share > _LEAST_SHARE * share.max()].max())
    return _summed(share, each, 0.0, end_m)


def _mixture(beliefs: list[Belief], own: Real, column: int) -> Mixture:
    """The sum of what each belief says in a column."""
    each = [(belief.mean[:, column], belief.covariance[:, column, column]) for belief in beliefs]
    return _summed(_shares(beliefs, own), each)


def _shares(beliefs: list[Belief], own: Real) -> Real:
    return np.concatenate([w * belief.share for w, belief in zip(own, beliefs, strict=True)])


def _summed(
    share: Real, each: list[tuple[Real, Real]], low: float = -np.inf, high: float = np.inf
) -> Mixture:
    felt = share > _NIL * share.max()
    mean, variance = (np.concatenate([one[k] for one in each])[felt] for k in (0, 1))
    return Mixture(share[felt], mean, np.sqrt(np.maximum(variance, 0.0)), low, high)
