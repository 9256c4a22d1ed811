"""The unit's transitions: one complete table, and nothing about them anywhere else.

Law 1: TABLE holds a row for every state and every input. What is ignored is ignored in writing.
Law 2: whoever wants the unit to behave otherwise changes this file, and only this file.
Law 3: every state that keeps the office off the pair goes home by a timer.
Some rows cannot occur with the schemes we know; they are written all the same.
"""

from enum import Enum
from typing import Literal, get_args

from farend_sim.unit.contacts import REST, Closed, Contact

Function = Literal["tone", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair"]
"""What the unit can be told to hold, in the words of files, screens and steps."""
FUNCTIONS: tuple[Function, ...] = get_args(Function)
Does = Literal[Function, "status", "set-hold", "release"]
"""What a command can be for; a scheme has one command for each."""
DOES: tuple[Does, ...] = get_args(Does)


class State(Enum):
    """What the unit is about; the names are those of screens and files."""

    UNPOWERED = "unpowered"
    ASLEEP = "asleep"
    """The receiver is off to save the battery; only the button wakes it."""
    IDLE = "idle"
    ATTENTIVE = "attentive"
    """Knocked at, and waiting for a command; a hold that is knocked at stays that hold."""
    TONE = "tone"
    STRAP = "strap"
    TIP_GROUND = "tip-ground"
    RING_GROUND = "ring-ground"
    BOTH_GROUND = "both-ground"
    OPEN = "open"
    OFF_PAIR = "off-pair"


class Input(Enum):
    """What a state is asked to answer: decoded keys, timers that ran out, acts at the far end."""

    KNOCK = "knock"
    TONE = "tone"
    STRAP = "strap"
    TIP_GROUND = "tip-ground"
    RING_GROUND = "ring-ground"
    BOTH_GROUND = "both-ground"
    OPEN = "open"
    OFF_PAIR = "off-pair"
    STATUS = "status"
    SET_HOLD = "set-hold"
    RELEASE = "release"
    REFUSE = "refuse"
    """Keys that are no command, or none that is taken now."""
    RESTART = "restart"
    """The first key of a knock, in the middle of attention."""
    LAPSE = "lapse"
    """Too long a gap between keys, or attention ran out."""
    OVER = "hold-over"
    OVER_ATTENTIVE = "hold-over-attentive"
    """The same, in a scheme whose holds need no new knock afterwards."""
    SLEEP_DUE = "sleep-due"
    BUTTON = "button"
    SWITCHED_OFF = "switched-off"
    POWER_LOST = "power-lost"
    POWER_BACK = "power-back"

    @property
    def does(self) -> Does | None:
        """What the command is for; None where it is no command."""
        return _COMMANDS.get(self)


_COMMANDS: dict[Input, Does] = {Input(does): does for does in DOES}


class Action(Enum):
    """What the firmware does on the way; contacts always end where the next state wants them."""

    IGNORE = "ignore"
    SETTLE = "settle"
    """Change contacts and say nothing."""
    GREET = "greet"
    """The knock's reply, after a pause in which more keys would drop it."""
    HOLD = "hold"
    """Reply, then close contacts, then count the hold."""
    TELL = "tell"
    SET_HOLD = "set-hold"
    LET_GO = "let-go"
    """Reply, then go home."""
    REFUSE = "refuse"
    END = "end"
    """Change contacts, then say that it is over."""
    WAKE = "wake"
    """Change contacts, then say that the unit is awake."""
    SLEEP = "sleep"
    """Change contacts, say nothing and forget the hold that was set."""
    DROP = "drop"
    """The power is gone: the springs do what they do, and everything is forgotten."""


OWN_REPLIES = {
    Action.GREET: "knock",
    Action.REFUSE: "refused",
    Action.END: "over",
    Action.WAKE: "awake",
}
"""The replies that are the unit's own, by what sounds them; all others are the commands'."""

HOLDS = tuple(map(State, FUNCTIONS))
"""The states that a hold timer ends."""

AT_REST = (State.UNPOWERED, State.ASLEEP, State.IDLE)
"""The states that leave the office on the pair."""

SETTLED: dict[State, Closed] = {
    State.UNPOWERED: REST,
    State.ASLEEP: REST,
    State.IDLE: REST,
    State.ATTENTIVE: frozenset(),
    State.TONE: frozenset({Contact.TONE}),
    State.STRAP: frozenset({Contact.STRAP}),
    State.TIP_GROUND: frozenset({Contact.TIP_GROUND}),
    State.RING_GROUND: frozenset({Contact.RING_GROUND}),
    State.BOTH_GROUND: frozenset({Contact.TIP_GROUND, Contact.RING_GROUND}),
    State.OPEN: frozenset(),
    State.OFF_PAIR: frozenset({Contact.OFF_PAIR}),
}
"""Which contacts are closed once a state has settled."""

PairState = Literal["idle", Function]
"""The states in which a pair may be asked for."""
STATES: tuple[PairState, ...] = get_args(PairState)

Cell = tuple[State | None, Action]

_STAY = None
_NO: Cell = (_STAY, Action.IGNORE)
_IDLE, _ATTENTIVE = State.IDLE, State.ATTENTIVE
_GREET: Cell = (_ATTENTIVE, Action.GREET)
_TELL: Cell = (_STAY, Action.TELL)
_SET: Cell = (_STAY, Action.SET_HOLD)
_FREE: Cell = (_IDLE, Action.LET_GO)
_OVER: Cell = (_IDLE, Action.END)
_WAKE: Cell = (_IDLE, Action.WAKE)
_DOZE: Cell = (State.ASLEEP, Action.SLEEP)
_DROP: Cell = (State.UNPOWERED, Action.DROP)

# One line an input; the columns are unpowered, asleep, idle, attentive, and each of the holds.
# Nothing here says that a strapped unit is deaf: if a key is heard, it is obeyed as anywhere.
_LINES: dict[Input, tuple[Cell, Cell, Cell, Cell, Cell]] = {
    Input.KNOCK: (_NO, _NO, _GREET, _GREET, (_STAY, Action.GREET)),
    **{
        Input(hold.value): (_NO, _NO, (hold, Action.HOLD), (hold, Action.HOLD), (hold, Action.HOLD))
        for hold in HOLDS
    },
    Input.STATUS: (_NO, _NO, _TELL, _TELL, _TELL),
    Input.SET_HOLD: (_NO, _NO, _SET, _SET, _SET),
    Input.RELEASE: (_NO, _NO, _FREE, _FREE, _FREE),
    Input.REFUSE: (
        _NO,
        _NO,
        (_STAY, Action.REFUSE),
        (_IDLE, Action.REFUSE),
        (_STAY, Action.REFUSE),
    ),
    # A hold is not disturbed when attention closes in the middle of it.
    Input.RESTART: (_NO, _NO, _NO, (_IDLE, Action.SETTLE), _NO),
    Input.LAPSE: (_NO, _NO, _NO, _OVER, _NO),
    Input.OVER: (_NO, _NO, _NO, _NO, _OVER),
    Input.OVER_ATTENTIVE: (_NO, _NO, _NO, _NO, (_ATTENTIVE, Action.END)),
    Input.SLEEP_DUE: (_NO, _NO, _DOZE, _NO, _NO),
    Input.BUTTON: (_NO, _WAKE, _WAKE, _WAKE, _WAKE),
    Input.SWITCHED_OFF: (_NO, _NO, _DOZE, _DOZE, _DOZE),
    Input.POWER_LOST: (_NO, _DROP, _DROP, _DROP, _DROP),
    # Idle, so that a bad battery contact does not lose a unit that nobody can reach; silent,
    # because nobody asked and the pair may be in use.
    Input.POWER_BACK: ((_IDLE, Action.SETTLE), _NO, _NO, _NO, _NO),
}

_COLUMNS = (*((state,) for state in (*AT_REST, State.ATTENTIVE)), HOLDS)

TABLE: dict[tuple[State, Input], tuple[State, Action]] = {
    (state, given): (state if cell[0] is None else cell[0], cell[1])
    for given, cells in _LINES.items()
    for column, cell in zip(_COLUMNS, cells, strict=True)
    for state in column
}
