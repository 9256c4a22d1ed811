"""The pair as it is at this moment: how it is wired, the spell that holds, what stands on it.

Law: whatever changes the wiring goes through `wire`, which ends the spell; the capacitors carry
their charge over. It has no time of its own and knows neither keys nor firmware.
"""

from dataclasses import replace

from farend_sim.bench.dial import DialTone
from farend_sim.bench.hearing import Steady
from farend_sim.bench.whereabouts import Whereabouts
from farend_sim.bench.wiring import BEYOND, Lead, NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.scenario import Scenario
from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.profile import Electrical
from line_model.equipment import NOTHING, RING_HZ
from line_model.knees import at_rest
from line_model.parts import Part
from line_model.route import route
from line_model.spell import Parts, Spell, Topologies
from line_model.terminals import NEAR, Pair, Terminals
from line_model.troubles import Trouble
from line_model.troubles.present import changes_us, present


class LivePair:
    """One plant with what is joined to its two ends."""

    def __init__(self, scenario: Scenario, electrical: Electrical) -> None:
        self._scenario = scenario
        self.unit = UnitOnPair(electrical)
        self.near = NearEnd(behind=scenario.behind)
        self.where = Whereabouts(scenario.plant)
        self._behind_office = DialTone(NEAR.pair, NEAR.sheath)
        self.lay(scenario.trouble, 0)

    def lay(self, troubles: tuple[Trouble, ...], now_us: int) -> None:
        """Lay the plant with these troubles; what has stood on it since yesterday has settled."""
        self.troubles = troubles
        self._come_and_go(now_us)
        self._solved = Topologies(NEAR.sheath)
        self._beyond_office = DialTone(BEYOND, self._laid.far[2])
        self.stand(self.where)
        wired = self._wired()
        self._capacitors = dict(self._solved.modes(at_rest(wired)).rest())
        self.spell = Spell.begin(wired, now_us, self._capacitors, self._solved)
        self._look_for_loops(now_us)

    # -- what is joined ------------------------------------------------------------------------

    def set(self, *, closed: Closed, keypad: bool, meter: tuple[Part, ...]) -> None:
        """Say what contacts, keypad and meter are now; `wire` makes it so."""
        self.unit = replace(self.unit, closed=closed)
        self.near = replace(self.near, keypad=keypad, meter=meter)

    def stand(self, where: Whereabouts) -> None:
        """Say where the technician is and how the joints are joined; `wire` makes it so."""
        self.where = where
        self.route = self._laid.joined(where.joins)
        self.near = replace(
            self.near,
            here=where.terminals(self.route),
            lead=where.leads.get(where.spot, "clear"),
            left=where.left(self.route),
        )

    def clip_unit(self, *, reverse: bool, ground: bool) -> None:
        self.unit = replace(self.unit, reversed=reverse, ground=ground, clipped=True)

    def clip_tip(self, on: bool) -> None:
        """Say whether the clip of the unit's own tip is on."""
        self.unit = replace(self.unit, tip_on=on)

    def unclip_unit(self) -> None:
        """Take the unit's clips off the pair."""
        self.unit = replace(self.unit, clipped=False)

    def clip_lead(self, lead: Lead) -> None:
        self.stand(self.where.with_lead(lead))

    def lift(self) -> None:
        """Take what is behind the near end off the pair."""
        self.near = replace(self.near, behind=NOTHING)

    def restore(self) -> None:
        """Put back what is behind the near end."""
        self.near = replace(self.near, behind=self._scenario.behind)

    @property
    def lifted(self) -> bool:
        """Whether what is behind the near end is off the pair, if anything is behind it."""
        return self.near.behind != self._scenario.behind

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
        begins = (self._beyond_office.since_us, self._behind_office.since_us)
        later = [at for at in begins if at is not None and at > self.spell.start_us]
        ends = (self.spell.deadline_us, self._changes_us, *later)
        return min((at for at in ends if at is not None), default=None)

    @property
    def changed(self) -> bool:
        """Whether the spell no longer is what is wired."""
        return self._wired() != self.spell.wired

    def begin_spell(self, now_us: int) -> None:
        """End the spell and begin the next with what is wired now."""
        self._capacitors.update(self.spell.capacitors(now_us))
        if self._changes_us is not None and self._changes_us <= now_us:
            self._come_and_go(now_us)
            self.stand(self.where)
        self.spell = Spell.begin(
            self._wired(), now_us, self._capacitors, self._solved, before=self.spell
        )
        self._look_for_loops(now_us)

    def _come_and_go(self, now_us: int) -> None:
        """Let come and go what does, troubles and ringing; see when that is next."""
        of = self._scenario
        self._laid = route(of.plant, present(self.troubles, of.seed, now_us), of.seed)
        self._as_of_us = now_us
        changes = (
            changes_us(self.troubles, of.seed, now_us),
            of.beyond.changes_us(now_us),
            of.behind.changes_us(now_us),
        )
        self._changes_us = min((at for at in changes if at is not None), default=None)

    def _wired(self) -> Parts:
        near = replace(self.near, behind=self.near.behind.at(self._as_of_us))
        beyond = self._scenario.beyond.at(self._as_of_us)
        return wiring(self.route, self.unit, near, beyond)

    def _look_for_loops(self, now_us: int) -> None:
        for office, joined in (
            (self._beyond_office, self._scenario.beyond),
            (self._behind_office, self.near.behind),
        ):
            if joined.equipment == "office" and not joined.ringing:
                office.look(self.spell, now_us)
            else:
                office.since_us = None

    # -- what stands on it ---------------------------------------------------------------------

    def steady(self, across: Pair, now_us: int) -> tuple[Steady, ...]:
        """What hum and dial tone put across a pair of nodes now."""
        hums = self.spell.hum_volt(across).items()
        return (
            *(Steady("ringing" if hz == RING_HZ.value else "hum", hz, v, 0) for hz, v in hums),
            *self._beyond_office.across(self.spell, across, now_us),
            *self._behind_office.across(self.spell, across, now_us),
        )

    def volt_here(self, now_us: int) -> float:
        """What stands between the legs, here, at this moment [V]."""
        return self.spell.volt(*self.here.pair, now_us) or 0.0
