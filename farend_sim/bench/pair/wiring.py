"""What is joined to what: one function makes the circuit from plant, contacts, near end and beyond.

Bench, line report and labs all use this one; nobody else joins parts to a pair.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from farend_sim.control.keypad import KEYPAD_OHM
from farend_sim.unit.contacts import REST, Closed, Contact
from farend_sim.unit.profile import Electrical
from line_model.beside import OWN
from line_model.equipment import NOTHING, Equipment
from line_model.meters.leads import CLIP_LEAD_OHM
from line_model.parts import Coupled, Knee, Part, Resistor, SeriesRC
from line_model.route import Route
from line_model.terminals import NEAR, Leg, Pair, Terminals

GROUND = "unit.ground"
LOOSE = ("unit.tip", "unit.ring")
"""The unit's own tip and ring while their clips are off the pair."""
BEYOND = ("beyond.tip", "beyond.ring")
"""The far side of the series contacts."""
KEYPAD_FARAD = 2.2e-6
"""The keypad's blocking capacitor [F]: common practice, no source."""
LOOP_OHM = 430.0
"""A holding loop clipped across the pair [ohm]: common practice, no source."""

Lead = Literal["short", "ground", "loop", "clear"]
"""A clip lead at the near end: across the pair, both legs to the sheath, a holding loop; none."""


@dataclass(frozen=True, slots=True)
class UnitOnPair:
    """How the unit stands at the far end: its make, its closed contacts, its clips."""

    electrical: Electrical
    closed: Closed = REST
    reversed: bool = False
    ground: bool = True
    clipped: bool = True
    """Unclipped, nothing of it is on the pair, nor what is beyond it."""
    tip_on: bool = True
    """False where the clip of its own tip alone has come off."""
    to_sheath: bool = False
    """The clip of its own ring is on the sheath: its tone then goes along one leg."""
    tied: tuple[str, Leg] | None = None
    """A neighbour both of whose legs a helper has tied to a leg of the pair."""


@dataclass(frozen=True, slots=True)
class NearEnd:
    """What is joined at the near end."""

    keypad: bool = False
    lead: Lead = "clear"
    meter: tuple[Part, ...] = ()
    behind: Equipment = NOTHING
    """What is behind the pair's near end, lifted or not."""
    here: Terminals = NEAR
    """Where keypad, ear, clip lead and meter are joined; what is behind stays at the near end."""
    left: tuple[tuple[Terminals, Lead], ...] = ()
    """Clip leads that were left on elsewhere."""
    lifted: frozenset[str] = frozenset()
    """The pairs, by name, that have been lifted off what is behind them."""

    @property
    def joined(self) -> Equipment:
        """What is behind the pair's near end; nothing once it is lifted."""
        return NOTHING if OWN in self.lifted else self.behind


def unit_pair(route: Route, unit: UnitOnPair) -> tuple[str, str]:
    """The nodes of the unit's own tip and ring."""
    if not unit.clipped:
        return LOOSE
    tip, ring, sheath = route.far
    own_tip, own_ring = (ring, tip) if unit.reversed else (tip, ring)
    own_ring = sheath if unit.to_sheath else own_ring
    return (own_tip if unit.tip_on else LOOSE[0]), own_ring


def wiring(route: Route, unit: UnitOnPair, near: NearEnd, beyond: Equipment) -> tuple[Part, ...]:
    """Return the whole circuit. The near sheath is its reference."""
    own = (*_unit(route, unit), *_near(near), *_beyond(route, unit, beyond))
    return (*route.parts, *own, *_neighbours(route, unit, near))


def _neighbours(route: Route, unit: UnitOnPair, near: NearEnd) -> Iterator[Part]:
    for one in route.neighbours:
        yield from one.parts(lifted=one.pair.name in near.lifted)
    if unit.tied and (good := route.neighbour(unit.tied[0])):
        own = route.far[("tip", "ring").index(unit.tied[1])]
        for leg in good.far.pair:
            yield Resistor(leg, own, CLIP_LEAD_OHM)


def _beyond(route: Route, unit: UnitOnPair, beyond: Equipment) -> Iterator[Part]:
    if beyond.equipment == "none" or not unit.clipped:
        return  # with nothing beyond them the series contacts end in the air
    yield from beyond.parts(*BEYOND, route.far[2])
    if Contact.SERIES in unit.closed:
        for leg, out in zip(unit_pair(route, unit), BEYOND, strict=True):
            yield Resistor(leg, out, unit.electrical.series_contact_ohm)


def _unit(route: Route, unit: UnitOnPair) -> Iterator[Part]:
    if not unit.clipped:
        return
    tip, ring = unit_pair(route, unit)
    of, closed = unit.electrical, unit.closed
    if Contact.OFF_PAIR not in closed:
        yield SeriesRC(tip, ring, of.receiver_ohm, of.receiver_farad, "receiver")
        yield Resistor(tip, ring, of.leak_ohm)
        yield from _protection(unit, tip, ring)
    if Contact.STRAP in closed:
        yield Resistor(tip, ring, of.contact_ohm)
    if Contact.TONE in closed:
        yield SeriesRC(tip, ring, of.tone_ohm, of.tone_farad, "tone")
    for contact, leg in ((Contact.TIP_GROUND, tip), (Contact.RING_GROUND, ring)):
        if contact in closed:
            yield Resistor(leg, GROUND, of.contact_ohm)
    if unit.ground:
        yield Resistor(GROUND, route.far[2], of.ground_lead_ohm)


def _protection(unit: UnitOnPair, tip: str, ring: str) -> Iterator[Part]:
    """Surge protection: across the pair, and to the ground lead if that is on."""
    of = unit.electrical
    if of.surge_volt is None:
        return
    to_ground = ((tip, GROUND), (ring, GROUND)) if unit.ground else ()
    for a, b in ((tip, ring), *to_ground):
        yield Knee(a, b, of.surge_ohm, of.surge_volt)


def keypad_at(here: Pair) -> Coupled:
    """The keypad's source across a pair of nodes."""
    return Coupled(*here, KEYPAD_OHM, KEYPAD_FARAD, "keypad")


def _near(near: NearEnd) -> Iterator[Part]:
    if near.keypad:
        yield keypad_at(near.here.pair)
    for at, lead in ((near.here, near.lead), *near.left):
        yield from _clip_lead(at, lead)
    yield from near.meter
    yield from near.joined.parts(NEAR.tip, NEAR.ring, NEAR.sheath)


def _clip_lead(at: Terminals, lead: Lead) -> Iterator[Part]:
    tip, ring = at.pair
    if lead == "short":
        yield Resistor(tip, ring, CLIP_LEAD_OHM)
    elif lead == "ground":
        yield Resistor(tip, at.sheath, CLIP_LEAD_OHM)
        yield Resistor(ring, at.sheath, CLIP_LEAD_OHM)
    elif lead == "loop":
        yield Resistor(tip, ring, LOOP_OHM)
