"""How well each suspect explains what was read, and what it then leaves open.

Law: what a suspect leaves open (place, logarithm of ohms, volts) starts as a mosaic of small
Gaussians that tile it evenly. Each is updated by the readings through the network made linear at
its own best point, with what the record leaves open beside it (an iterated extended Kalman
update). Their weights are evidence; their sum is the posterior. So a place that nothing tells of
stays spread over the route, two places that explain alike both stay, and no case is special.

Source: Gaussian sum filter, Alspach and Sorenson 1972; the iterated update as Gauss-Newton, Bell
and Cathey 1993 (from memory).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from farend_sim.drill.expert.forecast import (
    LN_OHM,
    OPEN,
    PLACE,
    SECOND,
    VOLT,
    Channel,
    Forecast,
    Pairs,
)
from farend_sim.drill.expert.gaussians import miss, updated
from farend_sim.drill.expert.hypothesis import Suspect
from farend_sim.drill.expert.laws import Asked
from farend_sim.drill.expert.readings import Readings
from farend_sim.drill.expert.records import Record
from farend_sim.drill.expert.screening import Screening
from farend_sim.drill.expert.slopes import Steps
from farend_sim.drill.expert.tiles import tiles
from line_model.parts import Real

Index = NDArray[np.intp]

_KEEP = 14.0
"""A tile whose evidence is less by more than this, of its logarithm, is dropped."""
_MOST = 30
"""So many tiles of a suspect are updated one by one, and as many for all the others."""
_FEW, _ROUNDS = 4, 15
"""After so many rounds only likely tiles go on, until they come to rest or are given up: before,
evidence tells how straight the way to a tile's best point is, and not how good that is."""
_STILL = 0.03
"""A tile that moves by less than this, of its standard deviation, has come to rest."""
_FAR_SD, _FAR_LN_OHM, _FAR_VOLT = 6.0, 25.0, 100.0
"""No nuisance is further off than this, of its standard deviation; no ohms are above 70 gigohm."""


@dataclass(frozen=True, slots=True)
class Belief:
    """What a suspect looks like after the readings: a sum of Gaussians."""

    suspect: Suspect
    of: "Weighing"
    """The record on which it is suspected."""
    log_evidence: float
    """Of the suspect, its own weight and its record's included."""
    share: Real
    """Of each Gaussian (N)."""
    mean: Real
    """(N, 4 + K): place, logarithm of ohms, volts, second place, then the record's nuisances."""
    covariance: Real
    """(N, 4 + K, 4 + K)."""
    misses: Real
    """How far each reading is from what those before it foretell, in standard deviations: of the
    Gaussian that fits best (M)."""


class Weighing:
    """All suspects against one record; what does not depend on readings is worked out once."""

    def __init__(self, forecast: Forecast, suspects: Sequence[Suspect], record: Record) -> None:
        """Take a record and the forecast of it."""
        self.forecast, self.suspects, self.record = forecast, tuple(suspects), record
        self.length_m = record.plant.length_m
        self.steps = Steps(forecast.sight.axes.count)
        self._count = forecast.sight.axes.count
        self._screening = Screening(forecast, suspects)

    def rough(self, of: Readings) -> list[Real]:
        """Of every suspect's every tile, its evidence as seen from its centre."""
        return [log + np.log(self.record.share) for log in self._screening.weighed(of)]

    def fine(self, rough: Sequence[Real], over: float, of: Readings) -> Iterator[Belief]:
        """What each suspect leaves open whose rough evidence is over so much."""
        for index, log in enumerate(rough):
            likely = int((log > over).sum())
            if likely:
                chosen, stands_for = _some(np.argsort(-log, axis=None, kind="stable")[:likely])
                yield self._updated(self.suspects[index], chosen, stands_for, of)

    def _updated(self, suspect: Suspect, chosen: Index, stands_for: Real, of: Readings) -> Belief:
        """Update some of a suspect's tiles, each made linear at its own best point."""
        tiled = tiles(suspect, self.length_m)
        sd = np.concatenate([tiled.sd, np.ones(self._count)])
        prior = np.zeros((chosen.size, sd.size))
        prior[:, :OPEN] = tiled.mean.reshape(-1, OPEN)[chosen]
        point, shift, log = prior.copy(), np.full(prior.shape, np.inf), np.zeros(chosen.size)
        covariance = np.zeros((*prior.shape, sd.size))
        white = np.zeros((chosen.size, len(of.asked)))
        moving: Index = np.arange(chosen.size)
        for round_ in range(_ROUNDS):
            at, slope = self.linear(suspect, point[moving], of.asked)
            # what the readings would say of the prior's mean, were all as straight as here
            bent = np.einsum("nmk,nk->nm", slope, prior[moving] - point[moving])
            last = shift[moving]
            shift[moving], log[moving], covariance[moving], white[moving] = updated(
                miss(of, at) - bent, slope * sd, of
            )
            point[moving] = self._within(prior[moving] + shift[moving] * sd)
            on = np.abs(shift[moving] - last).max(axis=-1) > _STILL
            on &= (round_ < _FEW) | (log[moving] > log.max() - _KEEP / 2)
            moving = moving[on]
            if not moving.size:
                break
        keep = log > log.max() - _KEEP
        point, log, covariance, white = point[keep], log[keep], covariance[keep], white[keep]
        stands_for = stands_for[keep]
        alone = self.record.share * suspect.weight / tiled.mean[..., 0].size
        log = log + np.log(stands_for * alone)
        weight = np.exp(log - log.max())
        total = float(log.max() + np.log(weight.sum()))
        fits = white[np.abs(white).max(axis=-1).argmin()]
        spread = covariance * np.outer(sd, sd)
        return Belief(suspect, self, total, weight / weight.sum(), point, spread, fits)

    def _within(self, point: Real) -> Real:
        """A point as near as the network knows: a misfit may be flung anywhere."""
        kept = np.array(point)
        for column in (PLACE, SECOND):
            kept[:, column] = np.clip(kept[:, column], 0.0, self.length_m)
        kept[:, LN_OHM] = np.clip(kept[:, LN_OHM], -_FAR_LN_OHM, _FAR_LN_OHM)
        kept[:, VOLT] = np.clip(kept[:, VOLT], -_FAR_VOLT, _FAR_VOLT)
        kept[:, OPEN:] = np.clip(kept[:, OPEN:], -_FAR_SD, _FAR_SD)
        return kept

    def linear(self, suspect: Suspect, point: Real, asked: Sequence[Asked]) -> tuple[Real, Real]:
        """What is observed at points (N, M), and its slope in every column (N, M, 4 + K)."""
        channels = [self.forecast.channel(one.setting) for one in asked]
        pairs, columns = self.around(suspect, point, channels)
        values = [self.forecast.observed(pairs, one)[..., 0] for one in asked]
        at = np.stack([each[0] for each in values], axis=-1)
        return at, np.stack([self.steps.slope(each, columns) for each in values], axis=-2)

    def around(
        self, suspect: Suspect, point: Real, channels: Sequence[Channel]
    ) -> tuple[Pairs, list[int]]:
        """Pairs at points and with each column moved (1 + C, N, 1), and which columns."""
        felt = self.forecast.sight.axes.felt([hz for _, hz in channels])
        columns = [*tiles(suspect, self.length_m).open, *(OPEN + column for column in felt)]
        points, nu = self.steps.moved(point[:, None, :OPEN], point[:, OPEN:], columns)
        return self.forecast.pairs(suspect, points, nu, channels), columns


def weigh(records: Sequence[Weighing], of: Readings) -> list[Belief]:
    """Every suspect on every record that explains the readings at all, and what it leaves open."""
    rough = [record.rough(of) for record in records]
    best = max(float(log.max()) for each in rough for log in each)
    pairs = zip(records, rough, strict=True)
    return [belief for one, each in pairs for belief in one.fine(each, best - 2 * _KEEP, of)]


def _some(likely: Index) -> tuple[Index, Real]:
    """The likeliest tiles, and every so many of the others, each standing for so many."""
    rest = likely[_MOST:]
    every = max(1, -(-rest.size // _MOST))
    picked = rest[every // 2 :: every]
    each = rest.size / picked.size if picked.size else 1.0
    first = np.ones(min(_MOST, likely.size))
    return np.concatenate([likely[:_MOST], picked]), np.append(first, np.full(picked.size, each))
