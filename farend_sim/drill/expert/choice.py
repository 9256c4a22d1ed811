"""Which reading would tell most: the expected information of each that meters and states allow.

Law: every Gaussian of the posterior says what a meter would show and how surely. What sorts them
apart (their Bhattacharyya distances) is information about the answer; what a reading narrows within
one of them is information about its place. Both are in nats; where only kind and leg are asked for,
places do not count.

Source: a bound on the information of mixtures, Kolchinsky and Tracey 2017 (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.expert import Expert
from farend_sim.drill.expert.forecast import PLACE, Pairs
from farend_sim.drill.expert.likelihood import Belief, Index, Weighing
from farend_sim.drill.expert.looks import Setting
from farend_sim.drill.expert.opinion import Opinion
from farend_sim.unit.table import PairState
from line_model.parts import Real

TELLING: tuple[PairState, ...] = ("strap", "tip-ground", "ring-ground")
"""States that a unit is told to take for a reading; idle needs no telling."""
WORTH = 0.03
"""Information under this is none [nat]. Invented for the demo."""
_MOST = 14
"""Gaussians of one suspect that are asked."""
_SHARE = 2e-3
"""Gaussians of a smaller share of the posterior are not. A choice, no source."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A reading that could be taken, and what it is expected to tell [nat]."""

    setting: Setting
    nats: float | None
    """None where procedure asks for it."""

    @property
    def worth(self) -> bool:
        """Whether it is worth the taking."""
        return self.nats is None or self.nats >= WORTH


def settings(expert: Expert, told: bool, live: bool, idle: PairState = "idle") -> list[Setting]:
    """Every reading that could be taken.

    Args:
        expert: with its meters.
        told: whether the unit can be told anything.
        live: whether foreign voltage was found; then nothing but a voltmeter goes on the pair.
        idle: the state without a strap or a ground: `open` where something is beyond the unit.
    """
    states: list[PairState] = [idle]
    if told:
        states += [state for state in TELLING if state != idle]
    found = []
    for name, law in expert.forecast.meters.items():
        for hookup in law.hookups():
            found += [
                Setting(meter=name, across=hookup, state=state)
                for state in states
                if not live or law.profile.kind == "volts"
            ]
    return found


def choices(opinion: Opinion, among: Sequence[Setting], place: bool) -> list[Choice]:
    """What each reading is expected to tell, most first."""
    if not among:
        return []
    shown = [_shown(*of, among) for of in _likely(opinion)]
    weight = np.concatenate([weight for weight, _, _, _, _ in shown])
    label = np.concatenate([label for _, label, _, _, _ in shown])
    at, sd, narrowed = (np.concatenate([one[k] for one in shown]) for k in (2, 3, 4))
    weight = weight / weight.sum()
    found: list[tuple[float, Setting]] = []
    for column, setting in enumerate(among):
        nats = _told(weight, label, at[:, column], sd[:, column], place)
        if place:
            nats += float(weight @ narrowed[:, column])
        found.append((nats, setting))
    return [Choice(setting, nats) for nats, setting in sorted(found, key=lambda one: -one[0])]


def _likely(opinion: Opinion) -> list[tuple[int, float, Belief]]:
    found = []
    for number, ranked in enumerate(opinion.ranked):
        for part, belief in zip(ranked.weights, ranked.beliefs, strict=True):
            if ranked.share * part > _SHARE:
                found.append((number, float(ranked.share * part), belief))
    return found


def _shown(
    number: int, share: float, belief: Belief, among: Sequence[Setting]
) -> tuple[Real, Real, Real, Real, Real]:
    """Weights and labels (N); what is shown, how surely, and by how much places narrow (N, M)."""
    kept = _spread_out(belief)
    weight = belief.share[kept] / belief.share[kept].sum() * share
    weighing = belief.of
    forecast = weighing.forecast
    channels = [forecast.channel(setting) for setting in among]
    pairs, columns = weighing.around(belief.suspect, belief.mean[kept], channels)
    covariance = belief.covariance[kept]
    each = [_read(weighing, pairs, columns, setting, covariance) for setting in among]
    at, sd, narrowed = (np.stack([one[k] for one in each], axis=-1) for k in range(3))
    return weight, np.full(kept.size, number), at, sd, narrowed


def _read(
    of: Weighing, pairs: Pairs, columns: list[int], setting: Setting, covariance: Real
) -> tuple[Real, Real, Real]:
    shown, own_sd = of.forecast.readable(pairs, setting)
    slope = of.steps.slope(shown[..., 0], columns)
    # a slope across the edge of what a display can show is no slope
    slope = np.where(np.abs(slope) < 1e6, slope, 0.0)
    along = np.einsum("nij,nj->ni", covariance, slope)
    spread = np.einsum("ni,ni->n", along, slope)
    variance = spread + own_sd[0, :, 0] ** 2
    place = covariance[:, PLACE, PLACE]
    told = np.divide(
        along[:, PLACE] ** 2, place * variance, out=np.zeros_like(place), where=place > 0
    )
    return shown[0, :, 0], np.sqrt(variance), -0.5 * np.log1p(-np.clip(told, 0.0, 0.9999))


def _spread_out(belief: Belief) -> Index:
    """A few Gaussians of a suspect: the heaviest, or evenly along the route if none is."""
    order = np.argsort(-belief.share)
    heavy = order[: int(np.searchsorted(np.cumsum(belief.share[order]), 0.995)) + 1]
    if heavy.size <= _MOST:
        return heavy
    along = heavy[np.argsort(belief.mean[heavy, PLACE])]
    every: Index = np.linspace(0, along.size - 1, _MOST).round().astype(np.intp)
    return along[every]


def _told(weight: Real, label: Real, at: Real, sd: Real, place: bool) -> float:
    """Information of one reading about the answer, and about the place if that is asked for."""
    variance = sd[:, None] ** 2 + sd[None, :] ** 2
    distance = (at[:, None] - at[None, :]) ** 2 / (4 * variance)
    distance += 0.5 * np.log(variance / (2 * sd[:, None] * sd[None, :]))
    alike = np.exp(-distance)
    whole = -float(weight @ np.log(alike @ weight))
    if place:
        return whole
    within = 0.0
    for each in np.unique(label):
        own = label == each
        share = weight[own] / weight[own].sum()
        within -= float(weight[own] @ np.log(alike[np.ix_(own, own)] @ share))
    return whole - within
