"""Scheme and unit together: the automaton of the codes in step with the unit's own table.

Law 1: a moment is a state of the unit and a place of the decoder; time is regions, that is, which
timer comes first. Any timer that runs may come first, so nothing that can happen is left out.
Law 2: a state in which the unit is deaf, by the line model, takes no key.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from farend_sim.scheme_lab.check.automaton import PAUSE, UNLOCK, Act, Automaton, Place
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.contacts import Closed
from farend_sim.unit.events import ButtonPressed, Event, PowerBack, PowerLost, SwitchedOff
from farend_sim.unit.firmware import ACTS
from farend_sim.unit.table import AT_REST, HOLDS, SETTLED, TABLE, Action, Input, State

OVER, SLEEP = "over", "sleep"
BY_HAND: dict[str, Event] = {
    "button": ButtonPressed(),
    "switch": SwitchedOff(),
    "cut": PowerLost(),
    "power": PowerBack(),
}
"""What somebody at the far end may do; longer than one letter, so that no key is called so."""


class Moment(NamedTuple):
    """Where unit and decoder are."""

    state: State
    place: Place


START = Moment(State.IDLE, Place())


class Done(NamedTuple):
    """One step: what happened, what came of it."""

    symbol: str
    to: Moment
    act: Act | None
    action: Action | None


Quick = tuple[int, int, bool]
"""A moment's number, the command that was taken or -1, and whether something was refused."""


@dataclass(frozen=True, slots=True)
class UnitTable:
    """What is examined together with a scheme."""

    table: Mapping[tuple[State, Input], tuple[State, Action]]
    settled: Mapping[State, Closed]


SHIPPED = UnitTable(TABLE, SETTLED)


class Model:
    """Steps of scheme and unit."""

    def __init__(
        self,
        scheme: CompiledScheme,
        keys: str,
        unit: UnitTable = SHIPPED,
        deaf: Collection[State] = (),
    ) -> None:
        self.automaton = Automaton(scheme)
        self.scheme = scheme
        self.keys = keys
        self.unit = unit
        self.deaf = frozenset(deaf)
        self._numbers: dict[Moment, int] = {}
        self._moments: list[Moment] = []
        self._rows: list[dict[str, Quick]] = []

    def key(self, at: Moment, key: str) -> Done:
        place, act = self.automaton.key(at.place, key, at.state)
        return self._taken(key, at.state, place, act)

    def number(self, at: Moment) -> int:
        """A moment's number; numbers are quicker to look up than moments."""
        if (known := self._numbers.get(at)) is None:
            known = self._numbers[at] = len(self._moments)
            self._moments.append(at)
            self._rows.append({})
        return known

    def quick(self, number: int, key: str) -> Quick:
        """What a key does, for those who play hundreds of thousands."""
        row = self._rows[number]
        if (known := row.get(key)) is None:
            _, to, act, _ = self.key(self._moments[number], key)
            command = -1 if act is None else act.command
            refused = act is not None and act.input is Input.REFUSE
            known = row[key] = self.number(to), command, refused
        return known

    def steps(self, at: Moment, *, by_hand: bool = True) -> Iterator[Done]:
        """Everything that can happen next: keys, timers and, by hand, acts at the far end."""
        if at.state not in self.deaf:
            for key in self.keys:
                yield self.key(at, key)
        yield from self.timed(at)
        if by_hand:
            for symbol, event in BY_HAND.items():
                yield self._taken(symbol, at.state, at.place, Act(ACTS[type(event)]))

    def timed(self, at: Moment) -> Iterator[Done]:
        """What time alone can do next."""
        for timer in self.automaton.timers(at.place):
            if timer == PAUSE:
                yield self._taken(PAUSE, at.state, *self.automaton.pause(at.place))
            else:
                yield Done(UNLOCK, at._replace(place=self.automaton.unlock(at.place)), None, None)
        if at.state in HOLDS:
            again = not self.scheme.knock_after_hold
            over = Input.OVER_ATTENTIVE if again else Input.OVER
            yield self._taken(OVER, at.state, at.place, Act(over))
        if at.state is State.IDLE:
            yield self._taken(SLEEP, at.state, at.place, Act(Input.SLEEP_DUE))

    def _taken(self, symbol: str, state: State, place: Place, act: Act | None) -> Done:
        """Let the table answer, and keep the decoder in step with it."""
        if act is None:
            return Done(symbol, Moment(state, place), None, None)
        after, action = self.unit.table[state, act.input]
        if after in AT_REST and place.attentive:
            place = self.automaton.closed(place)
        elif act.input is Input.OVER_ATTENTIVE:
            place = self.automaton.opened(place)
        if action in (Action.DROP, Action.SLEEP) or (
            action is not Action.IGNORE and act.input in ACTS.values()
        ):
            place = Place()
        return Done(symbol, Moment(after, place), act, action)
