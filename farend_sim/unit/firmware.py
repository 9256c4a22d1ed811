"""The far-end unit: events and time in, effects out.

Law 1: no samples, no line and no clock; time is an argument and the unit says when it wants waking.
Law 2: which state follows is the table's business. Here is only how it is done, and when.
Law 3: what lies in the future is a plan, which the next thing that happens may replace whole.
"""

from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.contacts import REST, Closed, Contact
from farend_sim.unit.decoder import Decoder, Meant
from farend_sim.unit.effects import ContactsSet, Effect, Effects, Silence, Sound, Voice
from farend_sim.unit.events import (
    ButtonPressed,
    DigitHeard,
    Event,
    PowerBack,
    PowerLost,
    SwitchedOff,
)
from farend_sim.unit.machine import TableMachine
from farend_sim.unit.plan import Plan, Planner, Step
from farend_sim.unit.profile import Timing
from farend_sim.unit.table import AT_REST, HOLDS, OWN_REPLIES, SETTLED, Action, Input, State

ACTS: dict[type[Event], Input] = {
    ButtonPressed: Input.BUTTON,
    SwitchedOff: Input.SWITCHED_OFF,
    PowerLost: Input.POWER_LOST,
    PowerBack: Input.POWER_BACK,
}
"""What each act at the far end is to the table."""


class Unit:
    """One unit, powered and idle at time 0."""

    def __init__(self, scheme: CompiledScheme, timing: Timing, tone_hz: tuple[float, ...]) -> None:
        self.closed: Closed = REST
        self.sound: Sound | None = None
        self.hold_deadline_us: int | None = None
        """None out of a hold, and until the hold's contacts have closed."""
        self.hold_us = 0
        """How long the latest hold lasts, or will; 0 before any."""
        self.taken: tuple[Meant, int] | None = None
        """The last input the table was given, and when, for whoever watches the unit."""
        self._scheme = scheme
        self._timing = timing
        self._tone = timing.tone(tone_hz)
        self._machine = TableMachine()
        self._decoder = Decoder(scheme)
        self._plan: Plan = ()
        self._set_hold_us: int | None = None
        self._opened_us = -timing.operate_us
        self._taken_us = 0

    @property
    def state(self) -> State:
        return self._machine.state

    @property
    def attentive(self) -> bool:
        """Whether a command would be listened to; in a hold that was knocked at, too."""
        return self._decoder.attentive

    @property
    def keyed(self) -> str:
        """The keys of a knock or a command that are kept."""
        return self._decoder.keyed

    @property
    def deadline_us(self) -> int | None:
        """When the unit next wants waking."""
        sleep_us = self._taken_us + self._timing.sleep_after_us
        moments = (
            self._plan[0].at_us if self._plan else None,
            self.hold_deadline_us,
            self._decoder.deadline_us,
            sleep_us if self.state is State.IDLE else None,
        )
        return min((moment for moment in moments if moment is not None), default=None)

    def handle(self, event: Event, now_us: int) -> Effects:
        """Take what happened. What was due earlier is done first, at its own time."""
        effects = self._catch_up(now_us - 1)
        if isinstance(event, DigitHeard):
            self._drop_greeting()
            heard = self._decoder.hear(event.digit, now_us, self.state)
        else:
            heard = Meant(ACTS[type(event)])
        return effects + self._take(heard, now_us)

    def wake(self, now_us: int) -> Effects:
        """Do what is due; nothing, when nothing is."""
        return self._catch_up(now_us)

    def _catch_up(self, now_us: int) -> Effects:
        effects: Effects = ()
        while (due_us := self.deadline_us) is not None and due_us <= now_us:
            # A plan goes first: a contact that closes at the moment its hold ends has closed.
            effects += self._play(due_us) or self._take(self._run_out(due_us), due_us)
        return effects

    def _run_out(self, due_us: int) -> Meant | None:
        """Tell which timer has come."""
        if self.hold_deadline_us is not None and self.hold_deadline_us <= due_us:
            self.hold_deadline_us = None
            return Meant(Input.OVER if self._scheme.knock_after_hold else Input.OVER_ATTENTIVE)
        decoder_us = self._decoder.deadline_us
        if decoder_us is not None and decoder_us <= due_us:
            return self._decoder.wake(due_us)
        if self.state is State.IDLE and self._taken_us + self._timing.sleep_after_us <= due_us:
            return Meant(Input.SLEEP_DUE)
        return None

    def _take(self, heard: Meant | None, now_us: int) -> Effects:
        """Let the table decide, and replace the plan by what its action asks for."""
        if heard is None:
            return ()
        self.taken = heard, now_us
        action = self._machine.take(heard.input)
        self._attend(heard, now_us)
        if action is Action.IGNORE:
            return ()
        if heard.input in ACTS.values():
            self._decoder.reset()  # who stands at the unit ends whatever was being dialled
        self._taken_us = now_us
        if action in (Action.DROP, Action.SLEEP):
            self._forget()
        if action is Action.DROP:
            return self._fall()
        if action is Action.HOLD:
            self.hold_us = self._set_hold_us or heard.hold_us or 0
        if action is Action.SET_HOLD:
            self._set_hold_us = heard.hold_us
        if action is Action.HOLD or self.state not in HOLDS:
            self.hold_deadline_us = None
        hushed = self._hush()
        self._plan = self._planned(action, heard, now_us)
        return hushed + self._play(now_us)

    def _attend(self, heard: Meant, now_us: int) -> None:
        """Keep the decoder's attention in step with the state."""
        if self.state in AT_REST:
            self._decoder.close()
        elif heard.input is Input.OVER_ATTENTIVE:
            self._decoder.open(now_us)

    def _planned(self, action: Action, heard: Meant, now_us: int) -> Plan:
        goal = SETTLED[self.state]
        name = OWN_REPLIES.get(action, heard.reply)
        planner = Planner(now_us, self.closed, self._opened_us, self._timing.operate_us)
        if action in (Action.END, Action.WAKE):
            planner.settle(goal)
        if action is Action.GREET:
            # Only what opens: if a hold's contact has yet to close, it does so after the reply.
            planner.settle(self.closed & goal)
            planner.wait(self._timing.knock_reply_delay_us)
            planner.reply(self._scheme.voice(name, self.state), greeting=True)
        elif name:
            planner.wait(self._timing.reply_delay_us)
            planner.reply(self._scheme.voice(name, self.state))
        waiting = self.state in HOLDS and self.hold_deadline_us is None
        planner.settle(goal, self._lasting(), begins_hold=waiting)
        return planner.written()

    def _lasting(self) -> Voice | None:
        return self._tone if self.state is State.TONE else None

    def _play(self, now_us: int) -> Effects:
        """Do all steps of the plan that are due."""
        effects: Effects = ()
        while self._plan and self._plan[0].at_us <= now_us:
            step, self._plan = self._plan[0], self._plan[1:]
            effects += self._do(step)
        return effects

    def _do(self, step: Step) -> Effects:
        effects = self._set(step.closed, step.at_us)
        if step.voice is not None and not self._goes_on(step.voice):
            voice = step.voice
            self.sound = Sound(voice.segments, voice.repeat, start_us=step.at_us)
            effects = (*effects, self.sound)
        if step.begins_hold:
            self.hold_deadline_us = step.at_us + self.hold_us
        return effects

    def _goes_on(self, voice: Voice) -> bool:
        """A tone that sounds already is not begun anew."""
        return voice.repeat and self.sound is not None and self.sound.repeat

    def _set(self, closed: Closed, now_us: int) -> Effects:
        effects: list[Effect] = []
        if Contact.TONE not in closed and self.sound is not None:
            self.sound = None
            effects.append(Silence())
        if closed != self.closed:
            if not self.closed <= closed:
                self._opened_us = now_us
            self.closed = closed
            effects.append(ContactsSet(closed))
        return tuple(effects)

    def _hush(self) -> Effects:
        """Break off a reply; the tone of a tone state sounds on until its contact opens."""
        if self.sound is None or self.sound.repeat:
            return ()
        self.sound = None
        return (Silence(),)

    def _drop_greeting(self) -> None:
        """Somebody who keys on has no ear for the knock's reply; one that sounds is not cut."""
        if any(step.greeting and step.voice is not None for step in self._plan):
            self._plan = tuple(step for step in self._plan if not step.greeting)

    def _fall(self) -> Effects:
        """Without power nothing times the contacts: their springs bring them to rest at once."""
        self._plan = ()
        silent: Effects = () if self.sound is None else (Silence(),)
        self.sound = None
        fallen: Effects = () if self.closed == REST else (ContactsSet(REST),)
        self.closed = REST
        return silent + fallen

    def _forget(self) -> None:
        self._decoder.reset()
        self._set_hold_us = None
        self.hold_us = 0
        self.hold_deadline_us = None
