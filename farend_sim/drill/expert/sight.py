"""What stands along a record between any places on it, and at its far end, side by side.

Law: the record is cut into runs at whatever stands on it; between two places lies some part of
each run, or none of it. So one shape of circuit serves every place, and places, nuisances and
states of the unit are nothing but axes. The far end is the bench's own wiring on a route of no
length.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

import numpy as np

from farend_sim.bench.pair.wiring import GROUND, NearEnd, UnitOnPair, wiring
from farend_sim.drill.expert.axes import Axes
from farend_sim.unit.profile import Electrical
from farend_sim.unit.table import SETTLED, State
from line_model.cable import PerMetre, per_metre
from line_model.equipment import Equipment
from line_model.errors import LineError
from line_model.fan import (
    EARTH,
    FRONT,
    SHEATH,
    Circuit,
    branch,
    joined,
    meshed,
    seen_from,
    stacked,
    stretch,
)
from line_model.knees import at_rest
from line_model.network import Mesh
from line_model.parts import Real
from line_model.plant import Earth, Plant, Stretch, Tap
from line_model.route import Route
from line_model.section import soaked
from line_model.two_port import Metre, Values, metre

Fitted = TypeVar("Fitted", Tap, Earth)


Nodes = tuple[str, ...]


def nodes(where: str) -> Nodes:
    """The pair's conductors at some other place than the front."""
    return tuple(f"{where} {each}" for each in FRONT)


def front_at(place: Nodes) -> dict[str, str]:
    """New names for a front that is at some place."""
    return dict(zip(FRONT, place, strict=True))


@dataclass(frozen=True, slots=True)
class Run:
    """A uniform length of the route, and the taps and earth bonds at its far end."""

    section: int
    per: PerMetre
    start_m: float
    end_m: float
    taps: tuple[tuple[PerMetre, float], ...] = ()
    earths: tuple[Earth, ...] = ()


@dataclass(frozen=True, slots=True)
class Laid:
    """A run under some nuisances: a metre of it, and what stands at its far end, on a front."""

    run: Run
    metre: Metre
    longer: Real
    """Metres as they are for each of the record's (...)."""
    fitted: tuple[Circuit, ...]

    def between(self, from_m: Real, to_m: Real, near: Nodes, far: Nodes) -> Circuit:
        """What of it lies between places and others behind them (...)."""
        most_m = self.run.end_m - self.run.start_m
        before_m = np.clip(from_m - self.run.start_m, 0, most_m)
        length_m = np.clip(to_m - self.run.start_m, 0, most_m) - before_m
        ends_here = np.asarray((from_m < self.run.end_m) & (to_m >= self.run.end_m), float)
        fitted = (each.renamed(front_at(far)).times(ends_here) for each in self.fitted)
        return joined(stretch(self.metre, length_m * self.longer, near, far), *fitted)


def way(laid: Sequence[Laid], from_m: Real, to_m: Real, near: Nodes, far: Nodes) -> Circuit:
    """What lies between places and others behind them, and from there to earth.

    Args:
        laid: all runs of a record.
        from_m: the nearer places (...).
        to_m: the others (...).
        near: the conductors' nodes at the nearer places.
        far: likewise at the others.
    """
    fronts = [near, *(nodes(f"run {k}") for k in range(1, len(laid))), far]
    each = (run.between(from_m, to_m, *fronts[k : k + 2]) for k, run in enumerate(laid))
    return seen_from(joined(*each), (*near, *far, EARTH))


@dataclass(frozen=True)
class Sight:
    """One record with its unit: its runs under any nuisances, and its two ends."""

    record: Plant
    electrical: Electrical
    beyond: Equipment
    axes: Axes
    _units: dict[tuple[str, float], Circuit] = field(default_factory=dict, compare=False)
    """The unit in each state at each frequency, solved once."""

    @cached_property
    def runs(self) -> tuple[Run, ...]:
        """The record cut at its joints, taps and earth bonds.

        Raises:
            LineError: it has load coils.
        """
        return tuple(_runs(self.record))

    def laid(self, nu: Real, hz: float) -> tuple[Laid, ...]:
        """Its runs under nuisances (..., K), at a frequency."""
        metres = {run.section: self._metre(run.per, run.section, nu, hz) for run in self.runs}
        longer = {section: self.axes.longer(nu, section) for section in metres}
        return tuple(
            Laid(run, metres[run.section], longer[run.section], tuple(self._fitted(run, nu, hz)))
            for run in self.runs
        )

    def near_end(self, nu: Real) -> Circuit:
        """The near end's way into the earth."""
        return _electrode(self.record.near_earth_ohm * self.axes.earth(nu), 0.0)

    def far_end(self, nu: Real, states: tuple[str, ...], hz: float) -> Circuit:
        """The far end, a front, with the unit in each state (states, ...)."""
        unit = stacked([self._unit(state, hz) for state in states], nu.ndim)
        lead_ohm = self.electrical.ground_lead_ohm * self.axes.ground_lead(nu)
        earth_ohm = self.record.far_earth_ohm * self.axes.earth(nu)
        earth = _electrode(earth_ohm, 0.0 if hz else self.record.far_earth_volt)
        whole = joined(unit, branch(GROUND, SHEATH, 1 / lead_ohm), earth)
        return seen_from(whole, (*FRONT, EARTH))

    def _metre(self, per: PerMetre, section: int, nu: Real, hz: float) -> Metre:
        tip, ring = self.axes.legs(nu)
        omega = 2j * np.pi * hz
        legs = (per.tip_ohm * tip[..., section], per.ring_ohm * ring[..., section])
        series = np.stack([*legs, per.sheath_ohm * self.axes.sheath(nu)], axis=-1)
        leaked = per.leg_sheath_siemens / self.axes.insulation(nu)
        if not hz:
            return metre(series, _shunt(leaked, leaked, 0.0 * leaked))
        tip_part, ring_part, pair_part = self.axes.farads(nu)
        slow = soaked(per.slow_farad, np.array([2 * np.pi * hz]))[0]
        to_sheath = [
            leaked + part * (omega * farad + slow)
            for part, farad in (
                (tip_part, per.tip_sheath_farad),
                (ring_part, per.ring_sheath_farad),
            )
        ]
        across = omega * per.tip_ring_farad * pair_part
        shunt = _shunt(to_sheath[0], to_sheath[1], across)
        henry = np.array([per.leg_henry, per.leg_henry, 0.0])
        return metre(series + omega * henry, shunt)

    def _fitted(self, run: Run, nu: Real, hz: float) -> Iterator[Circuit]:
        """What stands at a run's far end, on a front."""
        for per, length_m in run.taps:
            of = self._metre(per, run.section, nu, hz)
            yield seen_from(stretch(of, np.array(length_m), FRONT, nodes("tap's")), FRONT)
        for earth in run.earths:
            yield _electrode(earth.ohm * self.axes.earth(nu), 0.0 if hz else earth.volt)

    def _unit(self, state: str, hz: float) -> Circuit:
        """The unit with its ground lead off: a front and its ground."""
        if (known := self._units.get((state, hz))) is None:
            unit = UnitOnPair(self.electrical, SETTLED[State(state)], ground=False)
            parts = wiring(Route((), FRONT, ()), unit, NearEnd(), self.beyond)
            known = meshed(Mesh((hz,), at_rest(parts)).seen_from((*FRONT, EARTH, GROUND)))
            self._units[state, hz] = known
        return known


def _electrode(ohm: Values, volt: float) -> Circuit:
    """The way into the earth, which is so many volts there."""
    return branch(SHEATH, EARTH, 1 / ohm, np.array(volt) if volt else None)


def _shunt(tip: Values, ring: Values, across: Values) -> Values:
    """Admittances between tip, ring and sheath (..., 3, 3)."""
    shunt = np.zeros((*np.shape(tip), 3, 3), np.result_type(tip, across))
    for a, b, value in ((0, 2, tip), (1, 2, ring), (0, 1, across)):
        shunt[..., a, b] = shunt[..., b, a] = value
    return shunt


def _runs(plant: Plant) -> Iterator[Run]:
    if plant.coils:
        raise LineError("load coils: what readings say of a loaded pair is not reckoned here")
    start_m = 0.0
    for index, section in enumerate(plant.section):
        end_m = start_m + section.length_m
        per = _balanced(plant, section)
        fitted = {tap.at_m for tap in plant.tap} | {earth.at_m for earth in plant.earth}
        # what stands at a joint is at the end of the section before it, and not again behind it
        here = {m for m in fitted if start_m < m < end_m or m == start_m == 0}
        for at_m in sorted(here | {end_m}):
            taps = tuple((_balanced(plant, t), t.length_m) for t in _at(plant.tap, at_m))
            yield Run(index, per, start_m, at_m, taps, _at(plant.earth, at_m))
            start_m = at_m


def _at(fitted: tuple[Fitted, ...], at_m: float) -> tuple[Fitted, ...]:
    return tuple(one for one in fitted if one.at_m == at_m)


def _balanced(plant: Plant, one: Stretch) -> PerMetre:
    """Constants of a stretch with both legs alike: which leg has more is nobody's record."""
    even = replace(one, unbalance_percent=0.0, unbalance_pf_per_km=0.0)
    return per_metre(even, plant.temperature_c, 0, "")
