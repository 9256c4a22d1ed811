"""The expert: ranks what may be wrong by what was read, and says which reading would tell most.

Law: it knows readings, the record and the papers of instruments and unit; never the truth. A
trouble is pinned down when one answer holds at least SURE of the posterior, explains the readings,
and its place and its ohms are known as well as the answer needs them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from farend_sim.drill.answer import Answer, same_resistance
from farend_sim.drill.axes import axes
from farend_sim.drill.doubt import Doubt
from farend_sim.drill.forecast import LN_OHM, PLACE, SECOND, VOLT, Forecast
from farend_sim.drill.heard import Ear
from farend_sim.drill.hypothesis import Suspect, suspects
from farend_sim.drill.laws import laws
from farend_sim.drill.likelihood import Belief, Weighing, weigh
from farend_sim.drill.looks import Look
from farend_sim.drill.misfit import Misfit, misfit
from farend_sim.drill.records import records
from farend_sim.drill.sight import Sight
from farend_sim.drill.weights import evidence
from farend_sim.situation import Situation
from line_model.parts import Real
from line_model.plant import Plant

SURE = 0.95
"""A share of the posterior that is taken for certain. Common practice, no source."""
BAND = 0.95
"""What share of the posterior a band holds."""


@dataclass(frozen=True, slots=True)
class Mixture:
    """A sum of Gaussians of one column."""

    share: Real
    mean: Real
    sd: Real
    low: float = -np.inf
    high: float = np.inf

    def quantiles(self, *parts: float) -> list[float]:
        """Where so much of it lies below; inside its limits."""
        at, below = self._curve()
        return [float(np.interp(part, below, at)) for part in parts]

    def below(self, value: float) -> float:
        """How much of it lies below a value."""
        at, below = self._curve()
        return float(np.interp(value, at, below))

    def _curve(self) -> tuple[Real, Real]:
        from scipy.special import ndtr

        reach = 5 * self.sd.max()
        low = max(self.low, float((self.mean - reach).min()))
        high = min(self.high, float((self.mean + reach).max()))
        at = np.unique(np.concatenate([np.linspace(low, high, 400), self._around(low, high)]))
        sd = np.maximum(self.sd, 1e-9)
        below = ndtr((at[:, None] - self.mean) / sd) @ self.share
        return at, (below - below[0]) / max(below[-1] - below[0], 1e-300)

    def _around(self, low: float, high: float) -> Real:
        """Points close about each Gaussian: a grid of the whole may miss a sharp one."""
        turns = np.linspace(-4, 4, 33)
        return np.clip(self.mean[:, None] + turns * self.sd[:, None], low, high).ravel()


@dataclass(frozen=True, slots=True)
class Band:
    """A median, and what holds BAND of the posterior around it."""

    at: float
    low: float
    high: float

    @property
    def half(self) -> float:
        """The further of its ends from the median."""
        return max(self.at - self.low, self.high - self.at)


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

    @property
    def best(self) -> Ranked:
        return self.ranked[0]

    @property
    def off(self) -> tuple[str, float]:
        """What the record has most likely wrong, if anything, and how likely that is."""
        shares: dict[str, float] = {}
        for one in self.ranked:
            for belief, weight in zip(one.beliefs, one.weights, strict=True):
                of = belief.of.off
                shares[of] = shares.get(of, 0.0) + one.share * float(weight)
        return max(shares.items(), key=lambda each: each[1])

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


class Expert:
    """Someone who knows a record, a unit and some meters, and has not been told the truth."""

    def __init__(self, records: Sequence[Weighing], ear: Ear) -> None:
        """Take every record that may be the true one, the given one first."""
        self._records, self._ear = tuple(records), ear

    def opinion(self, looks: Sequence[Look], heard: bool | None = None) -> Opinion:
        """Rank every suspect by some readings, and by whether a knock was answered."""
        of = evidence(self.forecast, looks)
        weighed = weigh(self._records, of)
        if heard is not None:
            weighed = self._ear.heard(weighed, heard)
        return Opinion(ranking(weighed, self._records[0].length_m), misfit(weighed, of.asked))

    @property
    def forecast(self) -> Forecast:
        """Of the record as it is given."""
        return self._records[0].forecast


def expert(
    situation: Situation,
    record: Plant | None = None,
    doubt: Doubt | None = None,
    counts: bool = True,
) -> Expert:
    """An expert for a situation: of its trouble, seed and true plant nothing is taken.

    Args:
        situation: gives the unit, the meters and what is beyond the unit.
        record: what the plant is said to be; the situation's own record if left out.
        doubt: how far the record may be off.
        counts: whether displays may be off by the counts in their stated accuracy. A bench's meters
            at rest are not: they round.
    """
    plant = situation.scenario.recorded if record is None else record
    of, unit = doubt or Doubt(), situation.unit.electrical
    known = situation.meters
    if not counts:
        known = {name: replace(one, accuracy_counts=0) for name, one in known.items()}
    meters = laws(known, unit)
    each = []
    for one in records(plant, of):
        sight = Sight(one.plant, unit, situation.scenario.beyond, axes(one.plant, of))
        each.append(Weighing(Forecast(sight, meters), suspects(), one.share, one.off))
    return Expert(each, Ear(situation))


def ranking(beliefs: Sequence[Belief], length_m: float) -> tuple[Ranked, ...]:
    """Put beliefs of one answer together, and the likeliest first."""
    best = max(belief.log_evidence for belief in beliefs)
    weight = np.array([np.exp(belief.log_evidence - best) for belief in beliefs])
    weight /= weight.sum()
    groups: dict[str, list[int]] = {}
    for index, belief in enumerate(beliefs):
        groups.setdefault(belief.suspect.label, []).append(index)
    ranked = [
        _ranked([beliefs[i] for i in group], weight[group], length_m) for group in groups.values()
    ]
    return tuple(sorted(ranked, key=lambda one: -one.share))


def _ranked(beliefs: list[Belief], weight: Real, length_m: float) -> Ranked:
    share = float(weight.sum())
    own = weight / share if share > 0 else np.full(len(beliefs), 1 / len(beliefs))
    first = beliefs[int(own.argmax())].suspect
    alike = [PLACE] * len(beliefs)
    place = _mixture(beliefs, own, alike, 0.0, length_m) if first.placed else None
    ohm = _ohms(_mixture(beliefs, own, [LN_OHM] * len(beliefs))) if first.ohm is not None else None
    second_m = second_ohm = None
    if first.twice:
        second_ohm = _ohms(_mixture(beliefs, own, [VOLT] * len(beliefs)))
        columns = [SECOND if belief.suspect.apart else PLACE for belief in beliefs]
        second_m = _band(_mixture(beliefs, own, columns, 0.0, length_m))
    band = None if place is None else _band(place)
    return Ranked(first, share, place, band, ohm, second_m, second_ohm, tuple(beliefs), own)


def _ohms(logarithms: Mixture) -> Band:
    logs = _band(logarithms)
    return Band(*(float(np.exp(value)) for value in (logs.at, logs.low, logs.high)))


def _mixture(
    beliefs: list[Belief],
    own: Real,
    columns: list[int],
    low: float = -np.inf,
    high: float = np.inf,
) -> Mixture:
    """The sum of what each belief says in its column."""
    each = list(zip(beliefs, columns, strict=True))
    return Mixture(
        np.concatenate([w * belief.share for w, belief in zip(own, beliefs, strict=True)]),
        np.concatenate([belief.mean[:, column] for belief, column in each]),
        np.sqrt(np.concatenate([_variance(belief, column) for belief, column in each])),
        low,
        high,
    )


def _variance(belief: Belief, column: int) -> Real:
    return np.maximum(belief.covariance[:, column, column], 0.0)


def _band(mixture: Mixture) -> Band:
    edge = (1 - BAND) / 2
    low, at, high = mixture.quantiles(edge, 0.5, 1 - edge)
    return Band(at, low, high)
