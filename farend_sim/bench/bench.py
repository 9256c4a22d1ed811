"""The bench: pair, unit, meter and virtual time, coupled. It alone couples them.

Rule 1: ask, don't schedule. Each part says when it next wants attention; the bench goes to the
earliest. At equal times: the line itself, keypad, receiver, unit, meter.
Rule 2: between two events nothing changes, so one spell holds; any change of the wiring ends it.
Rule 3: screen, steps, drills and tests drive it with the verbs below, and with nothing else.
"""

from farend_sim.bench import seen
from farend_sim.bench.at_hand import AtHand
from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.pair.whereabouts import Whereabouts
from farend_sim.bench.pair.wiring import Lead
from farend_sim.bench.pair.worn_unit import WornUnit
from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.sound.far_ear import FarEar
from farend_sim.bench.sound.near_ear import Listener, NearEar
from farend_sim.bench.standing import OnBench
from farend_sim.control.ear import Heard
from farend_sim.control.keypad import Keypad, KeypadSettings
from farend_sim.situation import Situation
from farend_sim.unit.codes import compiled
from farend_sim.unit.effects import ContactsSet, Effects, Silence, Sound
from farend_sim.unit.events import DigitHeard, Event
from farend_sim.unit.firmware import Unit
from farend_sim.unit_faults import Fault
from line_model.meters.cycle import Reading
from line_model.meters.meter import Meter
from line_model.terminals import Leg
from line_model.troubles import Trouble


class Bench:
    """One situation under a person's hands, at a moment of its own time."""

    def __init__(self, situation: Situation) -> None:
        scenario, of = situation.scenario, situation.unit
        self.situation, self.now_us = situation, 0
        self.pair = LivePair(scenario, of.electrical)
        self.unit = WornUnit(Unit(compiled(situation.scheme), of.timing, of.electrical.tone_hz))
        self.keypad = Keypad()
        self.far_ear = FarEar(situation, self.pair, self.keypad, self.unit)
        self.ear = NearEar(of.electrical, scenario.noise.level_dbm)
        self.at_hand = AtHand(situation, OnBench(self.pair, self.ear))
        for fault in scenario.unit_faults:
            self.set_fault(fault, True)

    @property
    def meter(self) -> Meter | None:
        """The meter that is clipped on."""
        return self.at_hand.meter

    # -- verbs: the near end -------------------------------------------------------------------

    def press(self, keys: str, settings: KeypadSettings | None = None) -> None:
        """Send keys; they sound one after another from now on."""
        self.keypad.press(keys, self.now_us, settings or self.situation.scenario.keypad)
        self._rewire()

    def clip_meter(self, name: str, across: str) -> None:
        """Clip a meter across two terminals, another one first taken off."""
        self.at_hand.clip(name, across)
        self._rewire()

    def unclip_meter(self) -> None:
        """Take the meter off."""
        self.at_hand.unclip()
        self._rewire()

    def clip_lead(self, lead: Lead) -> None:
        """Put a clip lead on the near end: `short`, `ground`, `loop`; `clear` takes it off."""
        self.pair.clip_lead(lead)
        self._rewire()

    def lift(self) -> None:
        """Take what is behind the near end off the pair."""
        self.pair.lift()
        self._rewire()

    def restore(self) -> None:
        """Put back what is behind the near end."""
        self.pair.restore()
        self._rewire()

    def start_reading(self) -> None:
        """Press the meter's button."""
        assert self.meter is not None
        self.meter.start(self.now_us)
        self._rewire()

    # -- verbs: the far end, through a helper ---------------------------------------------------

    def at_unit(self, event: Event) -> None:
        """Do something to the unit: its button, its battery."""
        self._apply(self.unit.handle(event, self.now_us))

    def clip_unit(self, *, reverse: bool, ground: bool, to_sheath: bool = False) -> None:
        """Clip the unit on anew."""
        self.pair.clip_unit(reverse=reverse, ground=ground, to_sheath=to_sheath)
        self._sounds_from_here()

    def unclip_unit(self) -> None:
        """Take the unit's clips off the pair, and with it what is beyond."""
        self.pair.unclip_unit()
        self._sounds_from_here()

    def ground_unit(self, on: bool) -> None:
        """Put the unit's ground lead on the sheath, or take it off."""
        self.pair.ground_unit(on)
        self._sounds_from_here()

    def tie(self, tied: tuple[str, Leg] | None) -> None:
        """Tie a neighbour's legs to a leg of the pair at the far end; None takes that off."""
        self.pair.tie(tied)
        self._rewire()

    # -- verbs: at the block, along the route ----------------------------------------------------

    def clip(self, name: str) -> None:
        """Clip keypad, ear and meter to a pair at the block, by its name."""
        self.pair.clip(name)
        self.at_hand.moved()
        self._sounds_from_here()

    def stand(self, where: Whereabouts) -> None:
        """Stand there, with the joints so; a meter moved to other nodes has no reading yet."""
        moved = where.spot != self.pair.where.spot
        self.pair.stand(where)
        if moved:
            self.at_hand.moved()
        self._sounds_from_here()

    def _sounds_from_here(self) -> None:
        """Leads or clips are elsewhere: what sounds goes on, as loud as it is now."""
        self._rewire()
        self.ear.moved(self.pair.spell, self.pair.unit_pair, self.pair.here.pair)

    def mend(self, troubles: tuple[Trouble, ...]) -> None:
        """Lay the plant with what troubles are left, all of it settled."""
        self._begin_spell()  # what has stood until now is measured and heard
        self.pair.lay(troubles, self.now_us)
        self._sounds_from_here()

    def set_fault(self, fault: Fault, on: bool) -> None:
        """Put a fault of the unit in, or take it out: for the trainer."""
        effects = self.unit.set_fault(fault, on, self.now_us)
        self.pair.clip_tip("lead-off" not in self.unit.faults)
        self._rewire()
        self._apply(effects)

    # -- time ----------------------------------------------------------------------------------

    def advance_to(self, until_us: int, *, attended: bool = True) -> None:
        """Let time pass until a moment, everything due then included.

        Args:
            until_us: the moment.
            attended: whether anybody reads or listens. Where nobody does, a line that comes and
                goes of itself is looked at once, at the end: only its charge could tell.
        """
        at_us = self._next_us(attended)
        while self.now_us < until_us or (at_us is not None and at_us <= until_us):
            self._go(until_us if at_us is None else min(at_us, until_us))
            at_us = self._next_us(attended)

    def finish_reading(self) -> Reading:
        """Let time pass until the meter's cycle is over."""
        meter = self.meter
        assert meter is not None
        while meter.deadline_us is not None:
            self.advance_to(meter.deadline_us)
        assert meter.reading is not None
        return meter.reading

    def hears(self, start_us: int, who: Listener = "step") -> list[Heard]:
        """What the ear at the near end got since the same listener last asked."""
        self._let_stand()
        return self.ear.since(start_us, self.now_us, who)

    def snapshot(self) -> Snapshot:
        """Everything a view may show, frozen."""
        return seen.snapshot(self.now_us, self.at_hand, self.keypad, self.unit, self.pair)

    def _next_us(self, attended: bool) -> int | None:
        meter_us = self.at_hand.deadline_us
        looked_at = attended or self.far_ear.listens or meter_us is not None
        line_us = self.pair.deadline_us if looked_at else None
        wants = line_us, self.keypad.deadline_us, self.unit.deadline_us, meter_us
        return min((at for at in wants if at is not None), default=None)

    def _go(self, at_us: int) -> None:
        """Go to a moment, or to where a digit is heard before it; do what is due there."""
        heard = None
        if at_us > self.now_us:
            heard, at_us = self.far_ear.hear(self.now_us, at_us)
            self.now_us = at_us
        if self.pair.deadline_us is not None and self.pair.deadline_us <= at_us:
            self._begin_spell()
        if self.keypad.deadline_us is not None and self.keypad.deadline_us <= at_us:
            self.keypad.wake(at_us)
            self._rewire()
        if heard is not None:
            self._apply(self.unit.handle(DigitHeard(heard), at_us))
        while self.unit.deadline_us is not None and self.unit.deadline_us <= at_us:
            self._apply(self.unit.wake(at_us))
        if self.at_hand.deadline_us is not None and self.at_hand.deadline_us <= at_us:
            self.at_hand.wake(at_us)
            self._rewire(by_meter=True)

    # -- coupling ------------------------------------------------------------------------------

    def _apply(self, effects: Effects) -> None:
        """Let the unit's effects be, then let the ear hear what came of them."""
        before = self.pair.volt_here(self.now_us)
        for effect in effects:
            if isinstance(effect, ContactsSet):
                self._rewire()
                self.ear.click(self.now_us, before, self.pair.volt_here(self.now_us))
        for effect in effects:
            if isinstance(effect, Sound | Silence):
                self.at_hand.measure(self.now_us)  # what has sounded up to now
            if isinstance(effect, Sound):
                self.ear.begin(
                    effect, self.now_us, self.pair.spell, self.pair.unit_pair, self.pair.here.pair
                )
            elif isinstance(effect, Silence):
                self.ear.end(self.now_us)

    def _rewire(self, by_meter: bool = False) -> None:
        """End the spell if the circuit has changed."""
        self.pair.set(
            closed=self.unit.closed,
            keypad=self.keypad.sending,
            meter=self.at_hand.parts(self.pair.here),
        )
        if self.pair.changed:
            self._begin_spell(by_meter)

    def _begin_spell(self, by_meter: bool = False) -> None:
        self.at_hand.measure(self.now_us)
        if not by_meter:
            self.at_hand.switched()
        self._let_stand()
        self.pair.begin_spell(self.now_us)

    def _let_stand(self) -> None:
        """Let the ear hear what has stood on the near end in this spell."""
        steady = self.pair.steady(self.pair.here.pair, self.now_us)
        self.ear.stands(steady, self.pair.spell.start_us, self.now_us)
