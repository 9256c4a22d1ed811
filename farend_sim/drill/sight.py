"""What stands to the near and to the far side of any places on a record, side by side.

Law: the record is cut into runs at whatever stands on it; each run has a part before a place and a
part behind it, one of which may be of no length. So one shape of circuit serves every place, and
places, nuisances and states of the unit are nothing but axes. The far end is the bench's own
wiring on a route of no length.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

import numpy as np

from farend_sim.bench.wiring import GROUND, NearEnd, UnitOnPair, wiring
from farend_sim.drill.axes import Axes
from farend_sim.unit.profile import Electrical
from farend_sim.unit.table import SETTLED, State
from line_model.cable import PerMetre, per_metre
from line_model.equipment import Equipment
from line_model.errors import LineError
from line_model.fan import (
    EARTH,
    RING,
    SHEATH,
    TIP,
    Circuit,
    branch,
    joined,
    placed,
    stretch,
    without_last,
)
from line_model.knees import at_rest
from line_model.network import Mesh
from line_model.parts import Real
from line_model.plant import Earth, Plant, Stretch, Tap
from line_model.route import Route
from line_model.section import _soaked
from line_model.two_port import Values

_FAR = ("tip", "ring", "sheath", "earth", GROUND)
_GROUND = 4
_FRONT = (4, 5, 6, 3)
"""A place's front as the nodes of what is before it."""
Fitted = TypeVar("Fitted", Tap, Earth)
_KEPT, _FRESH, _OLD = (0, 1, 2), (4, 5, 6), (7, 8, 9)


@dataclass(frozen=True, slots=True)
class Run:
    """A uniform length of the route, and the taps and earth bonds at its far end."""

    section: int
    per: PerMetre
    start_m: float
    end_m: float
    taps: tuple[tuple[PerMetre, float], ...] = ()
    earths: tuple[Earth, ...] = ()


@dataclass(frozen=True)
class Sight:
    """One record with its unit: what any place on it has before and behind it."""

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

    def near(self, at_m: Real, nu: Real, hz: float = 0.0) -> Circuit:
        """From the near end to places: nodes near tip, ring, sheath, earth, then the place's three.

        Args:
            at_m: places (...).
            nu: nuisances (..., K).
            hz: the frequency that is looked at.
        """
        shape = np.broadcast_shapes(at_m.shape, nu.shape[:-1])
        ohm = self.record.near_earth_ohm * self.axes.earth(nu)
        return self._between(branch(shape, 4, SHEATH, EARTH, 1 / ohm), 0.0 * at_m, at_m, nu, hz)

    def between(self, from_m: Real, to_m: Real, nu: Real, hz: float = 0.0) -> Circuit:
        """From places to others behind them: nodes as of `near`, the nearer place's front first."""
        shape = np.broadcast_shapes(from_m.shape, nu.shape[:-1])
        none = branch(shape, 4, SHEATH, EARTH, np.zeros(shape))
        return self._between(none, from_m, to_m, nu, hz)

    def _between(self, whole: Circuit, from_m: Real, to_m: Real, nu: Real, hz: float) -> Circuit:
        # where it begins is its own front until a first stretch is laid
        first = True
        for run in self.runs:
            most_m = run.end_m - run.start_m
            before_m = np.clip(from_m - run.start_m, 0, most_m)
            length_m = np.clip(to_m - run.start_m, 0, most_m) - before_m
            laid = self._laid(run, length_m, nu, hz)
            if first:
                whole = joined(placed(whole, (0, 1, 2, 3), 7), placed(laid, (*_KEPT, *_FRESH), 7))
                first = False
            else:
                behind = placed(whole, (0, 1, 2, 3, *_OLD), 10)
                whole = without_last(joined(behind, placed(laid, (*_OLD, *_FRESH), 10)), 3)
            for tap, at in self._fitted(run, nu, hz):
                here = np.asarray((from_m < run.end_m) & (to_m >= run.end_m), float)
                whole = joined(whole, placed(_shown(tap, here), tuple(_FRONT[i] for i in at), 7))
        return whole

    def far(self, at_m: Real, nu: Real, states: tuple[str, ...], hz: float = 0.0) -> Circuit:
        """From places to the far end with the unit there: (states, ..., 4), the place's front."""
        whole = self._end(nu, states, hz)
        for run in reversed(self.runs):
            for tap, at in self._fitted(run, nu, hz):
                here = np.asarray(at_m < run.end_m, float)
                whole = joined(whole, placed(_shown(tap, here), at, 4))
            length_m = run.end_m - run.start_m
            laid = self._laid(run, length_m - np.clip(at_m - run.start_m, 0, length_m), nu, hz)
            behind = placed(whole, (*_FRESH, EARTH), 7)
            laid = placed(laid, (0, 1, 2, *_FRESH), 7)
            whole = without_last(joined(behind, laid), 3)
        return whole

    def _laid(self, run: Run, length_m: Real, nu: Real, hz: float) -> Circuit:
        tip, ring = self.axes.legs(nu)
        per, omega = run.per, 2j * np.pi * hz
        legs = (per.tip_ohm * tip[..., run.section], per.ring_ohm * ring[..., run.section])
        series = np.stack([*legs, per.sheath_ohm * self.axes.sheath(nu)], axis=-1)
        leaked = per.leg_sheath_siemens / self.axes.insulation(nu)
        if not hz:
            return stretch(series, _shunt(leaked, leaked, 0.0 * leaked), length_m)
        tip_part, ring_part, pair_part = self.axes.farads(nu)
        soaked = _soaked(per.slow_farad, np.array([2 * np.pi * hz]))[0]
        to_sheath = [
            leaked + part * (omega * farad + soaked)
            for part, farad in (
                (tip_part, per.tip_sheath_farad),
                (ring_part, per.ring_sheath_farad),
            )
        ]
        across = omega * per.tip_ring_farad * pair_part
        shunt = _shunt(to_sheath[0], to_sheath[1], across)
        henry = np.array([per.leg_henry, per.leg_henry, 0.0])
        return stretch(series + omega * henry, shunt, length_m)

    def _fitted(self, run: Run, nu: Real, hz: float) -> Iterator[tuple[Circuit, tuple[int, ...]]]:
        """What stands at a run's far end, and the nodes of a front that it is joined to."""
        for per, length_m in run.taps:
            tap = replace(run, per=per, taps=())
            laid = self._laid(tap, np.full(nu.shape[:-1], length_m), nu, hz)
            yield without_last(laid, 3), (TIP, RING, SHEATH)
        for earth in run.earths:
            volt = 0.0 if hz else earth.volt
            yield _electrode(earth.ohm * self.axes.earth(nu), volt), (SHEATH, EARTH)

    def _end(self, nu: Real, states: tuple[str, ...], hz: float) -> Circuit:
        """The far end in each state: a front, (states, ..., 4)."""
        shape = (len(states), *nu.shape[:-1])
        each = [self._unit(state, hz) for state in states]
        turns = (slice(None), *[None] * (nu.ndim - 1))
        siemens, amp = (np.array([c[which] for c in each])[turns] for which in (0, 1))
        lead_ohm = self.electrical.ground_lead_ohm * self.axes.ground_lead(nu)
        lead = branch(shape, 5, _GROUND, SHEATH, 1 / lead_ohm)
        unit = without_last(joined(lead, Circuit(siemens, amp)), 1)
        earth_ohm = self.record.far_earth_ohm * self.axes.earth(nu)
        volt = 0.0 if hz else self.record.far_earth_volt
        return joined(unit, placed(_electrode(earth_ohm, volt), (SHEATH, EARTH), 4))

    def _unit(self, state: str, hz: float) -> Circuit:
        """The unit with its ground lead off: a front and its ground, five nodes."""
        if (known := self._units.get((state, hz))) is None:
            unit = UnitOnPair(self.electrical, SETTLED[State(state)], ground=False)
            parts = wiring(Route((), ("tip", "ring", "sheath"), ()), unit, NearEnd(), self.beyond)
            seen = Mesh((hz,), at_rest(parts)).seen_from(_FAR)
            at = tuple(_FAR.index(name) for name in seen.nodes)
            siemens = seen.siemens[0] if hz else seen.siemens[0].real
            known = placed(Circuit(siemens, seen.dc_amp[0].real), at, 5)
            self._units[state, hz] = known
        return known


def _shown(fitted: Circuit, here: Values) -> Circuit:
    """What is fitted, for those places alone from which it is on this side."""
    return Circuit(fitted.siemens * here[..., None, None], fitted.amp * here[..., None])


def _electrode(ohm: Values, volt: float) -> Circuit:
    """The way into the earth, which is so many volts there: the sheath, then true earth."""
    circuit = branch(np.shape(ohm), 2, 0, 1, 1 / ohm)
    circuit.amp[..., 0], circuit.amp[..., 1] = volt / ohm, -volt / ohm
    return circuit


def _shunt(tip: Values, ring: Values, across: Values) -> Values:
    """Admittances between tip, ring and sheath (..., 3, 3)."""
    shunt = np.zeros((*np.shape(tip), 3, 3), np.result_type(tip, across))
    for a, b, value in ((TIP, SHEATH, tip), (RING, SHEATH, ring), (TIP, RING, across)):
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
