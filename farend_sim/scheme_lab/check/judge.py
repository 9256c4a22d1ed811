"""What the moments that can come about say of a scheme: commands, ways home, keys that linger."""

from collections.abc import Callable, Iterator

from farend_sim.scheme_lab.check.explore import Explored, Way, explore
from farend_sim.scheme_lab.check.finding import Finding
from farend_sim.scheme_lab.check.model import START, Done, Model, Moment, UnitTable
from farend_sim.scheme_lab.check.words import Did, word
from farend_sim.unit.contacts import Contact, beside_reply, change, legal
from farend_sim.unit.keying import keys_for
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import AT_REST, Action, State

LONG_LOCK_S = 300.0
"""Who waits longer drives off and leaves the unit on the pair. Source: a choice."""


def name(model: Model, command: int) -> str:
    """What a command does, as the file says it."""
    return model.scheme.commands[command].input.value


def did(model: Model, done: Did) -> str:
    """A command that was taken, with its argument."""
    return f"{name(model, done.command)} {done.value}".strip()


def end_of(model: Model, way: Way) -> State:
    """Where the automaton ends on a way from idle."""
    at = START
    for symbol in way:
        if len(symbol) == 1:
            at = model.key(at, symbol).to
        else:
            # By the keys' own way a timer that is not running changes nothing.
            at = next((each.to for each in model.timed(at) if each.symbol == symbol), at)
    return at.state


def way_to(model: Model, state: State) -> Way:
    """How to come to a state from idle."""
    if state is State.IDLE:
        return ()
    knock = tuple(model.scheme.knock)
    if state is State.ATTENTIVE:
        return knock
    return knock + tuple(keys_for(model.scheme, model.scheme.of(state.value)))


def untaken(model: Model, explored: Explored) -> Iterator[tuple[Finding, Way]]:
    """Commands that nobody can give, and those that only an ear that is deaf would take."""
    taken = _taken(explored)
    hearing = Model(model.scheme, model.keys, model.unit)
    for at, command in enumerate(model.scheme.commands):
        if at in taken:
            continue
        if not command.values:
            keys = model.scheme.knock + word(model.scheme, at).keys
            what = f"{name(model, at)}: no argument is in its range"
            yield Finding("never-taken", what), tuple(keys)
            continue
        everywhere = explore(hearing, by_hand=False)
        way = everywhere.first(_takes(at))
        where = ", ".join(sorted(state.value for state in command.taken_in))
        if way is None:
            keys = model.scheme.knock + word(model.scheme, at, command.values[0]).keys
            yield Finding("never-taken", f"{name(model, at)}, taken in {where}"), tuple(keys)
        else:
            what = f"{name(model, at)} is taken in {where} only, where the unit is deaf"
            yield Finding("deaf-only", what), way


def _takes(command: int) -> Callable[[Moment, Done], bool]:
    return lambda _, step: step.act is not None and step.act.command == command


def _taken(explored: Explored) -> set[int]:
    return {
        step.act.command
        for _, step in explored.steps()
        if step.act is not None and step.action is not Action.IGNORE
    }


def homeless(model: Model, explored: Explored) -> Iterator[tuple[Finding, Way]]:
    """States from which time alone does not lead home, whichever timer comes first."""
    home = {at for at in explored.came if at.state in AT_REST}
    away = {at: {step.to for step in model.timed(at)} - {at} for at in explored.came}
    grown = True
    while grown:
        more = {at for at, to in away.items() if at not in home and to and to <= home}
        grown = bool(more)
        home |= more
    told: set[State] = set()
    for at in explored.came:
        if at not in home and at.state not in told:
            told.add(at.state)
            yield (
                Finding("no-way-home", f"no timer leads home from {at.state.value}"),
                (explored.way(at)),
            )


def stale(explored: Explored) -> Iterator[tuple[Finding, Way]]:
    """A command made in part of keys from before too long a gap."""
    way = explored.first(lambda _, step: bool(step.act and step.act.old))
    if way is not None:
        what = "keys left over from before too long a gap become a command with those after it"
        yield Finding("stale-keys", what), way


def contacts(explored: Explored, unit: UnitTable) -> Iterator[tuple[Finding, Way]]:
    """Contacts that may not be closed together: settled, on the way, or beside a reply."""
    told: set[tuple[State, State]] = set()
    for at, step in explored.steps():
        states = at.state, step.to.state
        if states in told or step.action in (None, Action.IGNORE):
            continue
        told.add(states)
        start, goal = (unit.settled[state] for state in states)
        sets = [
            goal,
            beside_reply(start) | {Contact.TONE},
            *(way for _, way in change(start, goal, 1)),
        ]
        for closed in sets:
            if not legal(closed):
                names = ", ".join(sorted(contact.value for contact in closed))
                what = f"{names} closed together on the way to {step.to.state.value}"
                yield Finding("bad-contacts", what), explored.way(at, step.symbol)
                break


def locks(scheme: Scheme, explored: Explored) -> Iterator[tuple[Finding, Way]]:
    """A unit that is deaf to its owner for long."""
    lock = scheme.lockout
    if lock.refusals and lock.lock_s > LONG_LOCK_S:
        many = "one refusal makes" if lock.refusals == 1 else f"{lock.refusals} refusals make"
        way = explored.first(lambda _, step: step.to.place.locked)
        yield Finding("long-lock", f"{many} the unit deaf for {lock.lock_s:g} s"), way or ()
