"""A drill's own pair when all has settled: what its meters would say, without waiting for them.

Law: the meter's own cycle on the bench's own wiring, at rest. A test shows that the bench, with
keys, holds and time, comes to the same numbers.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from farend_sim.bench.line_report import receiver_report
from farend_sim.bench.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.drill.looks import Look, Setting, look_shown
from farend_sim.situation import Situation
from farend_sim.unit.table import SETTLED
from farend_sim.unit.table import State as UnitState
from line_model.knees import at_rest
from line_model.meters.instrument import instrument_error
from line_model.meters.cycle import Own
from line_model.meters.standing import Steady
from line_model.meters.still import came_at_rest
from line_model.network import Mesh
from line_model.parts import Element, Knee, Part
from line_model.route import route

_ENDS = ("tip", "ring", "sheath")


@dataclass(frozen=True, slots=True)
class Reduced(Part):
    """A circuit at 0 Hz as few of its nodes see it."""

    elements: tuple[Element, ...]

    def lumped(self) -> Iterator[Element]:
        return iter(self.elements)


def reduced(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """A circuit as its near end sees it; paths with a knee stay as they are."""
    knees = tuple(part for part in parts if isinstance(part, Knee))
    kept = dict.fromkeys((*_ENDS, *(node for knee in knees for node in (knee.a, knee.b))))
    rest = tuple(part for part in parts if not isinstance(part, Knee))
    mesh = Mesh((0.0,), rest).seen_from(tuple(kept))
    return (Reduced(tuple(_elements(mesh))), *knees)


def _elements(mesh: Mesh) -> Iterator[Element]:
    siemens, amp = mesh.siemens[0].real, mesh.dc_amp[0].real
    for i, a in enumerate(mesh.nodes):
        for j, b in enumerate(mesh.nodes[:i]):
            if siemens[i, j] > 0:
                yield Element("siemens", a, b, float(siemens[i, j]))
        # what is driven into the nodes sums to nothing, so each may come from the first
        if i and amp[i]:
            yield Element("amp", mesh.nodes[0], a, float(amp[i]))


class AtRest:
    """What stands on a circuit at rest: the face that meters ask."""

    def __init__(self, few: tuple[Part, ...], whole: tuple[Part, ...]) -> None:
        """Take a circuit as its near end sees it at 0 Hz, and all of it."""
        self._mesh = Mesh((0.0,), at_rest(few))
        self._whole = whole

    def settled(self, a: str, b: str) -> float | None:
        return self._mesh.volt(a, b)

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        return self.settled(a, b)

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        return ()

    def noise_volt(self, a: str, b: str) -> float:
        return 0.0

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        return Mesh((hz,), self._whole).ohm(a, b)[0]


class SettledPair:
    """One situation, its near end lifted, at rest in any state of its unit."""

    def __init__(self, situation: Situation) -> None:
        self._situation = situation
        scenario = situation.scenario
        self._route = route(scenario.plant, scenario.trouble, scenario.seed)
        self._wired: dict[tuple[str, str], tuple[tuple[Part, ...], tuple[Part, ...]]] = {}
        self._hears: bool | None = None

    @property
    def hears(self) -> bool:
        """Whether the unit hears a knock with the meter off: whether it can be told anything."""
        if self._hears is None:
            self._hears = bool(receiver_report(self._situation)["hears"])
        return self._hears

    def look(self, setting: Setting) -> Look:
        """What the drill's own meter settles to, as its display shows it."""
        scenario = self._situation.scenario
        own = Own(instrument_error(scenario.seed, setting.meter), setting.zeroed, setting.across)
        few, whole = self._of(setting)
        came = came_at_rest(
            self._situation.meters[setting.meter],
            setting.across,
            lambda meter: AtRest((*few, *meter), (*whole, *meter)),
            own,
        )
        look = look_shown(setting, came.shown, came.value)
        loop_ohm = dict(came.more).get("loop_ohm")
        return replace(look, loop_ohm=loop_ohm) if isinstance(loop_ohm, float) else look

    def _of(self, setting: Setting) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
        key = setting.state, setting.lead
        if (known := self._wired.get(key)) is None:
            unit = UnitOnPair(self._situation.unit.electrical, SETTLED[UnitState(setting.state)])
            near = NearEnd(lead=setting.lead)
            parts = wiring(self._route, unit, near, self._situation.scenario.beyond)
            known = self._wired[key] = reduced(parts), parts
        return known
