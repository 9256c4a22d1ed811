"""A drill's own pair when all has settled: what its meters would say, without waiting for them.

Law: the meter's own cycle on the bench's own wiring, at rest. A test shows that the bench, with
keys, holds and time, comes to the same numbers.
"""

from dataclasses import replace

from farend_sim.bench.line_report import receiver_of
from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.drill.expert.looks import Look, Setting, look_shown
from farend_sim.situation import Situation
from farend_sim.unit.table import SETTLED
from farend_sim.unit.table import State as UnitState
from line_model.meters.cycle import Own
from line_model.meters.instrument import instrument_error
from line_model.meters.settled import Joins, came_at_rest
from line_model.route import route


class SettledPair:
    """One situation, its near end lifted, at rest in any state of its unit."""

    def __init__(self, situation: Situation) -> None:
        self._situation = situation
        scenario = situation.scenario
        self._route = route(scenario.plant, scenario.trouble, scenario.seed)
        self._wired: dict[tuple[str, str], Joins] = {}
        self._hears: bool | None = None

    @property
    def hears(self) -> bool:
        """Whether the unit hears a knock with the meter off: whether it can be told anything."""
        if self._hears is None:
            self._hears = receiver_of(self._situation).hears
        return self._hears

    def look(self, setting: Setting) -> Look:
        """What the drill's own meter settles to, as its display shows it."""
        scenario = self._situation.scenario
        own = Own(instrument_error(scenario.seed, setting.meter), setting.zeroed, setting.across)
        profile = self._situation.meters[setting.meter]
        came = came_at_rest(profile, setting.across, self._of(setting), own)
        look = look_shown(setting, came.shown, came.value)
        loop_ohm = dict(came.more).get("loop_ohm")
        return replace(look, loop_ohm=loop_ohm) if isinstance(loop_ohm, float) else look

    def _of(self, setting: Setting) -> Joins:
        key = setting.state, setting.lead
        if (known := self._wired.get(key)) is None:
            unit = UnitOnPair(self._situation.unit.electrical, SETTLED[UnitState(setting.state)])
            near = NearEnd(lead=setting.lead)
            parts = wiring(self._route, unit, near, self._situation.scenario.beyond)
            known = self._wired[key] = Joins(parts)
        return known
