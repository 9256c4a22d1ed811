"""A pair at rest, solved once for each set of contacts: what labs have in the place of a bench's.

Law: the wiring, the network and what stands on the pair are the bench's own. What is left out is
what a key cannot hear: charge that moves after a switch, meters, and clips that change.
"""

from farend_sim.bench.pair.dial import DialTone
from farend_sim.bench.pair.solved import hums
from farend_sim.bench.pair.talk import talk
from farend_sim.bench.pair.wiring import BEYOND, Lead, NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.scenario import Scenario
from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.profile import Electrical
from line_model.equipment import Equipment
from line_model.knees import at_rest
from line_model.route import route
from line_model.standing import Steady
from line_model.still import Still


class StillPair:
    """One plant with a unit at its far end, and a technician at its lifted near end."""

    def __init__(self, scenario: Scenario, electrical: Electrical, lead: Lead = "clear") -> None:
        self._scenario, self._electrical, self._lead = scenario, electrical, lead
        self._route = route(scenario.plant, scenario.trouble, scenario.seed)
        self._known: dict[tuple[Closed, bool, Equipment], Still] = {}
        self.unit_pair = unit_pair(self._route, UnitOnPair(electrical))

    def at(self, closed: Closed, keypad: bool, now_us: int) -> Still:
        """The circuit with these contacts closed, and the keypad on the pair or off it."""
        # nobody hears it ring behind open contacts
        rings = Contact.SERIES in closed
        beyond = self._scenario.beyond.at(now_us) if rings else self._scenario.beyond
        if (known := self._known.get((closed, keypad, beyond))) is None:
            unit = UnitOnPair(self._electrical, closed)
            near = NearEnd(keypad=keypad, lead=self._lead)
            known = Still(at_rest(wiring(self._route, unit, near, beyond)))
            self._known[closed, keypad, beyond] = known
        return known

    def changes_us(self, now_us: int) -> int | None:
        """When the office beyond next begins to ring, or ceases."""
        return self._scenario.beyond.changes_us(now_us)

    def office(self) -> DialTone | None:
        """The office beyond the unit as it sends dial tone or does not; one a lane."""
        beyond = self._scenario.beyond
        sends = beyond.equipment == "office" and not beyond.ringing
        return DialTone(BEYOND, self._route.far[2]) if sends else None

    def steady(self, still: Still, office: DialTone | None, now_us: int) -> tuple[Steady, ...]:
        """What hum, dial tone and talk put across the unit now."""
        across = self.unit_pair
        dial = office.across(still, across, now_us) if office else ()
        talks = (tone for one in self._route.neighbours for tone in talk(one, still, across))
        return (*hums(still, across), *dial, *talks)


def off_pair(closed: Closed) -> bool:
    """Whether nothing of the unit is on the pair."""
    return Contact.OFF_PAIR in closed
