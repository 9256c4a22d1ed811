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

from farend_sim.drill.forecast import LN_OHM, OPEN, PLACE, SECOND, VOLT, Channel, Forecast, Pairs
from farend_sim.drill.hypothesis import Suspect
from farend_sim.drill.laws import Asked
from farend_sim.drill.tiles import Tiles, tiles
from farend_sim.drill.weights import Evidence
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
_ROUNDING = 1e-9
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

    def __init__(
        self, forecast: Forecast, suspects: Sequence[Suspect], share: float = 1.0, off: str = ""
    ) -> None:
        """Take a record's forecast, how likely the record is, and what the given one has wrong."""
        self.forecast, self.suspects = forecast, tuple(suspects)
        self.share, self.off = share, off
        self.length_m = forecast.sight.record.length_m
        self._count = forecast.sight.axes.count
        self._tiles = [tiles(suspect, self.length_m) for suspect in self.suspects]
        self._steps = np.full(OPEN + self._count, 0.05)
        self._steps[[PLACE, SECOND]], self._steps[[LN_OHM, VOLT]] = 0.5, 1e-3
        self._pairs: dict[tuple[int, Channel], Pairs] = {}
        self._at_tiles: dict[tuple[int, Asked], tuple[Real, Real]] = {}

    def rough(self, of: Evidence) -> list[Real]:
        """Of every suspect's every tile, its evidence as seen from its centre."""
        each = range(len(self.suspects))
        return [self._screened(index, of) + np.log(self.share) for index in each]

    def fine(self, rough: Sequence[Real], over: float, of: Evidence) -> Iterator[Belief]:
        """What each suspect leaves open whose rough evidence is over so much."""
        for index, log in enumerate(rough):
            likely = int((log > over).sum())
            if likely:
                chosen, stands_for = _some(np.argsort(-log, axis=None, kind="stable")[:likely])
                yield self._updated(index, chosen, stands_for, of)

    # -- rough: the tiles' own centres, with their width as one more doubt ---------------------

    def _screened(self, index: int, of: Evidence) -> Real:
        """Roughly weigh every tile at its centre (X, R)."""
        sd = self._tiles[index].sd
        columns = [self._at_centres(index, one) for one in of.asked]
        at = np.stack([value for value, _ in columns], axis=-1)
        slope = np.stack([slope for _, slope in columns], axis=-2)
        wide = slope[..., :OPEN] * sd
        # over a tile the network bends: what a straight line misses is no evidence against it
        bent = 0.3 * np.abs(wide).sum(axis=-1)
        spread = np.concatenate([wide, slope[..., OPEN:]], axis=-1)
        noise = np.hypot(of.sd, bent)
        covariance = spread @ np.swapaxes(spread, -1, -2) + of.gain @ of.gain.T
        covariance = covariance + noise[..., None] ** 2 * np.eye(noise.shape[-1])
        return _log_density(_miss(of, at), covariance)[0]

    def _at_centres(self, index: int, asked: Asked) -> tuple[Real, Real]:
        """What is observed at every tile's centre and their slopes; kept for the next time."""
        if (known := self._at_tiles.get((index, asked))) is None:
            tiled, channel = self._tiles[index], self.forecast.channel(asked.setting)
            few = self.forecast.sight.axes.rough(channel[1])
            columns = [*tiled.open, *(OPEN + column for column in few)]
            if (index, channel) not in self._pairs:
                points, nu = self._moved(tiled.mean, np.zeros((1, self._count)), columns)
                pairs = self.forecast.pairs(self.suspects[index], points, nu, (channel,))
                self._pairs[index, channel] = pairs
            values = self.forecast.observed(self._pairs[index, channel], asked)
            slope = self.slope(values, columns)
            for column, times in few.items():
                slope[..., OPEN + column] *= times
            known = self._at_tiles[index, asked] = values[0], slope
        return known

    # -- fine ----------------------------------------------------------------------------------

    def _updated(self, index: int, chosen: Index, stands_for: Real, of: Evidence) -> Belief:
        """Update some of a suspect's tiles, each made linear at its own best point."""
        tiled, suspect = self._tiles[index], self.suspects[index]
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
            shift[moving], log[moving], covariance[moving], white[moving] = _update(
                _miss(of, at) - bent, slope * sd, of
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
        alone = self.share * suspect.weight / tiled.mean[..., 0].size
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
        return at, np.stack([self.slope(each, columns) for each in values], axis=-2)

    def around(
        self, suspect: Suspect, point: Real, channels: Sequence[Channel]
    ) -> tuple[Pairs, list[int]]:
        """Pairs at points and with each column moved (1 + C, N, 1), and which columns."""
        columns = self._columns(tiles(suspect, self.length_m))
        points, nu = self._moved(point[:, None, :OPEN], point[:, OPEN:], columns)
        return self.forecast.pairs(suspect, points, nu, channels), columns

    def _columns(self, tiled: Tiles) -> list[int]:
        return [*tiled.open, *range(OPEN, OPEN + self._count)]

    def _moved(self, theta: Real, nu: Real, columns: list[int]) -> tuple[Real, Real]:
        """Points, and the same with one column after another moved by its step."""
        theta = np.repeat(theta[None], 1 + len(columns), axis=0)
        nu = np.repeat(nu[None], 1 + len(columns), axis=0)
        for row, column in enumerate(columns, start=1):
            moved = theta if column < OPEN else nu
            moved[row, ..., column if column < OPEN else column - OPEN] += self._steps[column]
        return theta, nu

    def slope(self, values: Real, columns: list[int]) -> Real:
        """Slopes from values at points and with each column moved."""
        slope = np.zeros((*values.shape[1:], OPEN + self._count))
        for row, column in enumerate(columns, start=1):
            slope[..., column] = (values[row] - values[0]) / self._steps[column]
        return slope


def weigh(records: Sequence[Weighing], of: Evidence) -> list[Belief]:
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


def _miss(of: Evidence, at: Real) -> Real:
    """How far readings are from a forecast; a display that is over leaves room."""
    miss = of.value - at
    return np.asarray(np.sign(miss) * np.maximum(np.abs(miss) - of.slack, 0.0))


def _log_density(miss: Real, covariance: Real) -> tuple[Real, Real]:
    """The logarithm of the density (N), and each reading's miss, given those before it (N, M)."""
    covariance = _sound(covariance)
    scale = np.sqrt(np.diagonal(covariance, axis1=-2, axis2=-1))
    root = np.linalg.cholesky(covariance / (scale[..., :, None] * scale[..., None, :]))
    white = np.linalg.solve(root, (miss / scale)[..., None])[..., 0]
    size = 2 * np.log(scale * np.diagonal(root, axis1=-2, axis2=-1)).sum(axis=-1)
    return np.asarray(-0.5 * ((white**2).sum(axis=-1) + size)), np.asarray(white)


def _sound(covariance: Real) -> Real:
    """A covariance that rounding cannot take below nought: each spread a little wider."""
    wider = np.eye(covariance.shape[-1]) * _ROUNDING
    return np.asarray(covariance * (1 + wider))


def _update(miss: Real, slope: Real, of: Evidence) -> tuple[Real, Real, Real, Real]:
    """A linear update of unit priors: the shift, the evidence, the covariance, each miss."""
    noise = of.gain @ of.gain.T + np.diag(of.sd**2)
    covariance = _sound(slope @ np.swapaxes(slope, -1, -2) + noise)
    scale = np.sqrt(np.diagonal(covariance, axis1=-2, axis2=-1))
    even = covariance / (scale[..., :, None] * scale[..., None, :])
    solved = np.linalg.solve(even, slope / scale[..., None]) / scale[..., None]
    gain = np.swapaxes(solved, -1, -2)
    shift = np.einsum("nkm,nm->nk", gain, miss)
    left = np.eye(slope.shape[-1]) - gain @ slope
    log, white = _log_density(miss, covariance)
    return shift, log, (left + np.swapaxes(left, -1, -2)) / 2, white
