"""A pair at rest, solved once for each set of contacts: what labs have in the place of a bench's.

Law: the wiring, the network and what stands on the pair are the bench's own. What is left out is
what a key cannot hear: charge that moves after a switch, meters, and clips that change.
"""

from farend_sim.bench.dial import DialTone
from farend_sim.bench.hearing import Steady
from farend_sim.bench.talk import talk
from farend_sim.bench.wiring import BEYOND, Lead, NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.scenario import Scenario
from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.profile import Electrical
from line_model.knees import at_rest
from line_model.network import Mesh
from line_model.route import route
from line_model.spell import Parts, Topologies
from line_model.terminals import Pair

_Asked = tuple[Pair, Pair, tuple[float, ...]]


class Still:
    """One circuit at rest; each question is solved once."""

    def __init__(self, parts: Parts, solved: Topologies) -> None:
        self._parts, self._solved = at_rest(parts), solved
        self._direct: Mesh | None = None
        self._volt: dict[Pair, float | None] = {}
        self._ohm: dict[_Asked, dict[float, complex]] = {}
        self._hum: dict[Pair, dict[float, complex]] = {}

    def settled(self, a: str, b: str) -> float | None:
        """V(a) - V(b) [V]; None between islands."""
        if (a, b) not in self._volt:
            if self._direct is None:
                self._direct = Mesh((0.0,), self._parts)
            self._volt[a, b] = self._direct.volt(a, b)
        return self._volt[a, b]

    def transfer_ohm(self, into: Pair, across: Pair, hz: tuple[float, ...]) -> dict[float, complex]:
        """Voltage across one pair of nodes for each ampere into another [V/A], 0 if none."""
        asked = into, across, hz
        if (known := self._ohm.get(asked)) is None:
            known = self._ohm[asked] = self._solved.transfer_ohm(self._parts, into, across, hz)
        return known

    def hum_volt(self, across: Pair) -> dict[float, complex]:
        """What alternates across a pair of nodes by itself [V rms], by frequency."""
        if (known := self._hum.get(across)) is None:
            known = self._hum[across] = self._solved.hum_volt(self._parts, across)
        return known


class StillPair:
    """One plant with a unit at its far end, and a technician at its lifted near end."""

    def __init__(self, scenario: Scenario, electrical: Electrical, lead: Lead = "clear") -> None:
        self._scenario, self._electrical, self._lead = scenario, electrical, lead
        self._route = route(scenario.plant, scenario.trouble, scenario.seed)
        self._solved = Topologies("sheath")
        self._known: dict[tuple[Closed, bool], Still] = {}
        self.unit_pair = unit_pair(self._route, UnitOnPair(electrical))

    def at(self, closed: Closed, keypad: bool) -> Still:
        """The circuit with these contacts closed, and the keypad on the pair or off it."""
        if (known := self._known.get((closed, keypad))) is None:
            unit = UnitOnPair(self._electrical, closed)
            near = NearEnd(keypad=keypad, lead=self._lead)
            wired = wiring(self._route, unit, near, self._scenario.beyond)
            known = self._known[closed, keypad] = Still(wired, self._solved)
        return known

    def office(self) -> DialTone | None:
        """The office beyond the unit as it sends dial tone or does not; one a lane."""
        is_there = self._scenario.beyond.equipment == "office"
        return DialTone(BEYOND, self._route.far[2]) if is_there else None

    def steady(self, still: Still, office: DialTone | None, now_us: int) -> tuple[Steady, ...]:
        """What hum, dial tone and talk put across the unit now."""
        across = self.unit_pair
        hums = still.hum_volt(across).items()
        dial = office.across(still, across, now_us) if office else ()
        talks = (tone for one in self._route.neighbours for tone in talk(one, still, across))
        return (*(Steady("hum", hz, volt, 0) for hz, volt in hums), *dial, *talks)


def off_pair(closed: Closed) -> bool:
    """Whether nothing of the unit is on the pair."""
    return Contact.OFF_PAIR in closed
