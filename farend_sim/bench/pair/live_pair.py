"""The pair as it is at this moment: how it is wired, the spell that holds, what stands on it.

Law: what is said to change is so from the next spell on (`begin_spell`); the capacitors carry
their charge over. It has no time of its own and knows neither keys nor firmware.
"""

from dataclasses import replace

from farend_sim.bench.pair.senders import Senders
from farend_sim.bench.pair.solved import hums
from farend_sim.bench.pair.whereabouts import Spot, Whereabouts
from farend_sim.bench.pair.wiring import Lead, NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.scenario import Scenario
from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.profile import Electrical
from line_model.beside import OWN
from line_model.equipment import NOTHING, Equipment
from line_model.knees import at_rest
from line_model.neighbours import in_order, leg_of
from line_model.parts import Part, nodes_of
from line_model.route import Route, route
from line_model.spell import Parts, Spell, Topologies
from line_model.standing import Steady
from line_model.terminals import NEAR, Leg, Pair, Terminals
from line_model.transient import Capacitors
from line_model.troubles import Trouble
from line_model.troubles.present import changes_us, present

ON_NOTHING = Terminals("leads.tip", "leads.ring")
"""Leads that are on no pair: nodes of their own; the sheath is always at hand."""


class LivePair:
    """One plant with what is joined to its two ends."""

    def __init__(self, scenario: Scenario, electrical: Electrical) -> None:
        self._scenario = scenario
        self.unit = UnitOnPair(electrical)
        self.near = NearEnd(behind=scenario.behind)
        self.where = Whereabouts(scenario.plant, scenario.recorded)
        self.clipped: str | None = OWN if scenario.block is None else None
        """The pair that the leads at the near end are on, by its name; None: on none."""
        self._known = scenario.neighbours
        self._asked: tuple[str, ...] = ()
        self.lay(scenario.trouble, 0)

    def lay(self, troubles: tuple[Trouble, ...], now_us: int) -> None:
        """Lay the plant with these troubles; what has stood on it since yesterday has settled."""
        self.troubles = troubles
        self._come_and_go(now_us)
        self._solved = Topologies(NEAR.sheath)
        self._senders = Senders(self._laid.far[2])
        self.stand(self.where)
        self._in_spell = self.route.neighbours
        self._capacitors = dict(self._solved.modes(at_rest(self._wired())).rest())
        self._begin(now_us, None)

    # -- what is joined ------------------------------------------------------------------------

    def set(self, *, closed: Closed, keypad: bool, meter: tuple[Part, ...]) -> None:
        """Say what contacts, keypad and meter are now; the next spell has it."""
        self.unit = replace(self.unit, closed=closed)
        self.near = replace(self.near, keypad=keypad, meter=meter)
        self._ask()

    def stand(self, where: Whereabouts) -> None:
        """Say where the technician is and how the joints are joined; the next spell has it."""
        self.where = where
        self.route = self._laid.joined(where.joins)
        self.near = replace(
            self.near,
            here=self._leads(where.spot),
            lead=where.lead,
            left=tuple((self._leads(spot), lead) for spot, lead in where.left),
        )

    def clip(self, name: str) -> None:
        """Put the leads at the near end on another pair; a clip lead comes off."""
        self.clip_lead("clear")
        self.clipped = name
        self._ask()
        self.stand(self.where)

    def tie(self, tied: tuple[str, Leg] | None) -> None:
        """Tie a neighbour's legs to a leg of the pair at the far end; None takes that off."""
        self.unit = replace(self.unit, tied=tied)
        self._ask()

    def clip_unit(self, *, reverse: bool, ground: bool, to_sheath: bool = False) -> None:
        self.unit = replace(
            self.unit, reversed=reverse, ground=ground, clipped=True, to_sheath=to_sheath
        )

    def ground_unit(self, on: bool) -> None:
        """Say whether the unit's ground lead is on the sheath."""
        self.unit = replace(self.unit, ground=on)

    def clip_tip(self, on: bool) -> None:
        """Say whether the clip of the unit's own tip is on."""
        self.unit = replace(self.unit, tip_on=on)

    def unclip_unit(self) -> None:
        """Take the unit's clips off the pair, and its ground lead off the sheath."""
        self.unit = replace(self.unit, clipped=False, ground=False)

    def clip_lead(self, lead: Lead) -> None:
        self.stand(self.where.with_lead(lead))

    def lift(self) -> None:
        """Take what is behind the near end off the pair that is clipped."""
        self.near = replace(self.near, lifted=self.near.lifted | {self.clipped or OWN})

    def restore(self) -> None:
        """Put back what is behind the near end."""
        self.near = replace(self.near, lifted=self.near.lifted - {self.clipped or OWN})

    @property
    def behind(self) -> Equipment:
        """What is behind the near end of the pair that is clipped, lifted or not."""
        laid = self.route.neighbour(self.clipped) if self.clipped else None
        return self._scenario.behind if laid is None else laid.behind

    @property
    def lifted(self) -> bool:
        """Whether what is behind the near end is off the pair that is clipped."""
        return (self.clipped or OWN) in self.near.lifted

    @property
    def here(self) -> Terminals:
        """Where keypad, ear, clip lead and meter are joined."""
        return self.near.here

    @property
    def unit_pair(self) -> Pair:
        """The nodes of the unit's own tip and ring."""
        return unit_pair(self.route, self.unit)

    @property
    def unit_on(self) -> bool:
        """Whether anything of the unit is on the pair."""
        return self.unit.clipped and Contact.OFF_PAIR not in self.unit.closed

    # -- spells --------------------------------------------------------------------------------

    @property
    def deadline_us(self) -> int | None:
        """When the spell is over of itself: a knee, dial tone, what comes and goes."""
        begins_us = self._senders.next_us(self.spell.start_us)
        ends = (self.spell.deadline_us, self._swings_us, self._rings_us(), begins_us)
        return min((at for at in ends if at is not None), default=None)

    @property
    def changed(self) -> bool:
        """Whether the spell no longer is what is wired."""
        return self._wired() != self.spell.wired

    def begin_spell(self, now_us: int) -> None:
        """End the spell and begin the next with what is wired now."""
        held = self.spell.capacitors(now_us)
        self._capacitors.update(held)
        if self._swings_us is not None and self._swings_us <= now_us:
            self._come_and_go(now_us)
            self.stand(self.where)
        self._as_of_us = now_us
        self._let_in(held)
        self._begin(now_us, self.spell)

    def _begin(self, now_us: int, before: Spell | None) -> None:
        self.spell: Spell = Spell.begin(
            self._wired(), now_us, self._capacitors, self._solved, before
        )
        self._senders.look(self.spell, now_us, self.route, self.near, self._scenario.beyond)

    def _let_in(self, held: Capacitors) -> None:
        """A neighbour that was not in the circuit has lain there since yesterday, settled."""
        if self.route.neighbours == self._in_spell:
            return
        bare = replace(self.near, keypad=False, meter=(), lead="clear")
        rest = self._solved.modes(at_rest(self._wired(bare))).rest()
        self._capacitors.update({pair: volt for pair, volt in rest.items() if pair not in held})
        self._in_spell = self.route.neighbours

    def _come_and_go(self, now_us: int) -> None:
        """Let the troubles be there that are there now; see when that changes."""
        of = self._scenario
        self._present = present(self.troubles, of.seed, now_us, of.trouble)
        self._laid = self._lay_out()
        self._swings_us = changes_us(self.troubles, of.seed, now_us, of.trouble)
        self._as_of_us = now_us

    def _rings_us(self) -> int | None:
        """When an office that is on the pair next begins to ring, or ceases."""
        joined = (self._scenario.beyond if self._reached else NOTHING, self.near.joined)
        changes = (office.changes_us(self._as_of_us) for office in joined)
        return min((at for at in changes if at is not None), default=None)

    @property
    def _reached(self) -> bool:
        """Whether the unit's series contacts join what is beyond it to the pair."""
        return self.unit.clipped and Contact.SERIES in self.unit.closed

    def _lay_out(self, looked_at: str = OWN) -> Route:
        of, more = self._scenario, (looked_at,) if looked_at else ()
        return route(of.plant, self._present, of.seed, asked=in_order(self._asked, more))

    def _ask(self) -> None:
        """Take into the circuit the neighbours that hands are on now, and no others."""
        tied = self.unit.tied[0] if self.unit.tied else OWN
        metered = (leg_of(node) for node in nodes_of(self.near.meter))
        touched = (self.clipped or OWN, tied, *(leg[0] for leg in metered if leg))
        asked = in_order(name for name in touched if name in self._known)
        if asked != self._asked:
            self._asked = asked
            self._laid = self._lay_out()
            self.stand(self.where)

    def with_neighbour(self, name: str) -> tuple[Parts, Terminals]:
        """The circuit with one neighbour more, and the near end of that pair; for a look at it."""
        way = self._lay_out(name).joined(self.where.joins)
        laid = way.neighbour(name)
        return self._wired(way=way), NEAR if laid is None else laid.near

    def _leads(self, spot: Spot) -> Terminals:
        """Where leads are at a spot: at the near end on the pair that is clipped there."""
        here = self.where.terminals(self.route, spot)
        if here != NEAR or self.clipped == OWN:
            return here
        laid = self.route.neighbour(self.clipped) if self.clipped else None
        return ON_NOTHING if laid is None else laid.near

    def _wired(self, near: NearEnd | None = None, way: Route | None = None) -> Parts:
        near = replace(near or self.near, behind=self.near.behind.at(self._as_of_us))
        beyond = self._scenario.beyond
        if self._reached:  # nobody hears it ring behind open contacts, and no reading is disturbed
            beyond = beyond.at(self._as_of_us)
        return wiring(way or self.route, self.unit, near, beyond)

    # -- what stands on it ---------------------------------------------------------------------

    def steady(self, across: Pair, now_us: int) -> tuple[Steady, ...]:
        """What hum, ringing, dial tone and talk put across a pair of nodes now."""
        return (
            *hums(self.spell, across),
            *self._senders.across(self.spell, across, now_us, self.route, self.near),
        )

    def volt_here(self, now_us: int) -> float:
        """What stands between the legs, here, at this moment [V]."""
        return self.spell.volt(*self.here.pair, now_us) or 0.0
