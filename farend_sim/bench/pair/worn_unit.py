"""What may be wrong with the unit itself, put in and taken out while it works.

Law: the unit stays pure and knows nothing of it. `WornUnit` stands between unit and bench and has
the same verbs: time on its way in and effects on their way out are where a fault shows.
The receiver's deafness and a lead that is off are the bench's and the wiring's to carry.
"""

from dataclasses import replace

from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.effects import ContactsSet, Effects, Sound
from farend_sim.unit.events import Event, PowerBack, PowerLost
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import State
from farend_sim.unit_faults import Fault

DEAF_DB = 45.0
"""How much less a deaf one hears: invented for the demo."""
_CLOCK: dict[Fault, int] = {"clock-fast": 150, "clock-slow": 67}
"""Percent of the true time that its own timer counts: invented for the demo."""
_STICK: Closed = frozenset({Contact.STRAP, Contact.TIP_GROUND, Contact.RING_GROUND})
_HEAVY: Closed = _STICK | {Contact.OFF_PAIR}
"""Contacts whose coils ask the battery for more than a reply does."""


class WornUnit:
    """A unit with its faults."""

    def __init__(self, unit: Unit) -> None:
        self.faults: frozenset[Fault] = frozenset()
        self._unit = unit
        self._sound: Sound | None = None
        self._stuck: Closed = frozenset()
        self._percent, self._since_us, self._own_since_us = 100, 0, 0

    # -- what the bench asks of a unit ---------------------------------------------------------

    @property
    def state(self) -> State:
        return self._unit.state

    @property
    def closed(self) -> Closed:
        """What is closed, whatever the firmware thinks."""
        return self._unit.closed | self._stuck

    @property
    def sound(self) -> Sound | None:
        """What sounds, in the bench's time."""
        return None if self._unit.sound is None else self._sound

    @property
    def attentive(self) -> bool:
        return self._unit.attentive

    @property
    def keyed(self) -> str:
        """The keys of a knock or a command that its decoder keeps."""
        return self._unit.keyed

    @property
    def hold_deadline_us(self) -> int | None:
        return self._told_us(self._unit.hold_deadline_us)

    @property
    def deadline_us(self) -> int | None:
        return self._told_us(self._unit.deadline_us)

    def handle(self, event: Event, now_us: int) -> Effects:
        """Take what happened."""
        return self._worn(self._unit.handle(event, self._own_us(now_us)), now_us)

    def wake(self, now_us: int) -> Effects:
        """Do what is due."""
        return self._worn(self._unit.wake(self._own_us(now_us)), now_us)

    # -- faults --------------------------------------------------------------------------------

    def set_fault(self, fault: Fault, on: bool, now_us: int) -> Effects:
        """Put a fault in, or take it out; what comes of it at once is returned."""
        self.faults = self.faults | {fault} if on else self.faults - {fault}
        self._own_since_us, self._since_us = self._own_us(now_us), now_us
        clocks = [percent for name, percent in _CLOCK.items() if name in self.faults]
        self._percent = clocks[0] if clocks else 100
        if fault == "battery-low" and not on and self.state is State.UNPOWERED:
            return self.handle(PowerBack(), now_us)  # a fresh one is put in
        before = self.closed
        self._stuck = self._unit.closed & _STICK if "sticking" in self.faults else frozenset()
        return () if self.closed == before else (ContactsSet(self.closed),)

    def _worn(self, effects: Effects, now_us: int) -> Effects:
        """What the effects become on their way out."""
        if self._gives_way(effects):
            effects = (*effects, *self._unit.handle(PowerLost(), self._own_us(now_us)))
        if "sticking" in self.faults:
            for effect in effects:
                if isinstance(effect, ContactsSet):
                    self._stuck |= effect.closed & _STICK
        return tuple(
            self._told(effect) if isinstance(effect, Sound) else effect for effect in effects
        )

    def _gives_way(self, effects: Effects) -> bool:
        return "battery-low" in self.faults and any(
            isinstance(effect, ContactsSet) and effect.closed & _HEAVY for effect in effects
        )

    # -- its own time --------------------------------------------------------------------------

    def _own_us(self, now_us: int) -> int:
        """The bench's time as the unit's timer counts it."""
        return self._own_since_us + (now_us - self._since_us) * self._percent // 100

    def _told_us(self, own_us: int | None) -> int | None:
        """The first moment of the bench at which the unit's timer has come so far."""
        if own_us is None:
            return None
        return self._since_us - (-(own_us - self._own_since_us) * 100 // self._percent)

    def _told(self, sound: Sound) -> Sound:
        """A sound in the bench's time: the timer that is off makes its lengths too."""
        start_us = self._told_us(sound.start_us)
        assert start_us is not None
        if self._percent == 100:
            told = replace(sound, start_us=start_us)
        else:
            segments = tuple(
                replace(each, duration_us=each.duration_us * 100 // self._percent)
                for each in sound.segments
            )
            told = replace(sound, start_us=start_us, segments=segments)
        self._sound = told
        return told
