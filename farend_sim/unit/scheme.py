"""What a scheme file says, as plain frozen dataclasses: nothing about codes is in code.

Keys of the file are the names of the fields. Every number has its source in the file: a comment, a
`source` key, or a line of the `source` table.
"""

from dataclasses import dataclass, field
from typing import Annotated, Literal, get_args

from annotated_types import Ge, Gt, Le, MinLen

from farend_sim.unit.table import Does, Function

Event = Literal["knock", "refuse", "hold-over", Does]
"""What an invariant can speak of: acts of the unit."""

StateName = Literal["idle", "attentive", Function]
"""The states in which a powered unit that is awake can take a command."""

STATE_NAMES: tuple[StateName, ...] = get_args(StateName)

KEYPAD = "0123456789*#ABCD"
"""Every key there is. Source: ITU-T Q.23, from memory."""

Seconds = Annotated[float, Gt(0), Le(1e6)]
Digit = Annotated[int, Ge(0)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """One code: when it is taken, what it holds, and what the unit answers."""

    code: Annotated[str, MinLen(1)]
    does: Does
    taken_in: Annotated[tuple[StateName, ...], MinLen(1)]
    reply: str
    """The name of a reply."""
    keeps_attention: bool = False
    """Whether another command may follow without a new knock."""
    confirmed: bool = False
    """Whether it must be keyed twice in a row: the first time is silent and acts on nothing."""
    argument_digits: Annotated[int, Ge(0), Le(6)] = 0
    """Whole seconds, for set-hold; the check digit is not counted."""
    hold_s: Seconds | None = None
    """A function's hold until another is set."""
    shortest_s: Seconds | None = None
    """Of a function: the shortest hold it has. Of set-hold: the shortest it takes."""
    longest_s: Seconds | None = None
    source: str = ""
    """Where the numbers come from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tone:
    """One stretch of a reply."""

    hz: Annotated[float, Ge(0)]
    """0 is silence."""
    duration_ms: Annotated[int, Gt(0)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """A pattern of the unit's own, by name.

    The names knock, refused, over and awake are the unit's; the others are the commands'. A status
    reply of a state has the state behind it: `status-strap`, where the command's is `status`.
    """

    name: Annotated[str, MinLen(1)]
    tone: Annotated[tuple[Tone, ...], MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """Digits that an office would act on, should it hear what is dialled to the unit."""

    digits: Annotated[str, MinLen(1)]
    reaches: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lockout:
    """How often the unit lets itself be asked nonsense in a row."""

    refusals: Annotated[int, Ge(0)] = 0
    """So many refusals make the unit deaf for a while; 0 never does."""
    lock_s: Annotated[float, Ge(0), Le(1e6)] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Never:
    """What shall never happen, for the check to prove: one act, soon after another or at all."""

    does: Event
    within_s: Seconds | None = None
    """How soon; at any time later where it is left out."""
    after: Event | None = None
    """Not at all where it is left out."""
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scheme:
    """A whole set of control codes."""

    format: Literal[1]
    title: str
    about: str = ""
    keys: Annotated[str, MinLen(1)] = "0123456789*#"
    """Every key that a keypad of this scheme has."""
    knock: Annotated[str, MinLen(1)]
    unit_number: str
    """Follows the knock."""
    restart: bool
    """Whether the knock's first key, in the middle of attention, closes it and begins a knock."""
    start: str = ""
    """The key that begins a command; empty where none does."""
    end: str = ""
    """The key at which a command acts; empty where it acts at its last."""
    check: Literal["none", "argument", "command"] = "none"
    """What is followed by a check digit: nothing, arguments, or each command with its argument."""
    check_table: tuple[tuple[Digit, ...], ...] = ()
    """Ten rows of ten digits; row is what the digits so far came to, column the next digit."""
    gap_s: Seconds
    """The longest pause between two keys."""
    attention_s: Seconds
    """How long the unit waits for a command's first key."""
    leftover: Literal["close", "drop", "keep"] = "close"
    """What too long a gap does to a command half keyed: it closes attention with it, it drops the
    keys and attends on, or it keeps them for the keys to come."""
    knock_after_hold: bool = True
    """Whether the unit needs a new knock when a hold is over."""
    lockout: Lockout = Lockout()
    call: tuple[Call, ...]
    command: Annotated[tuple[Command, ...], MinLen(1)]
    reply: Annotated[tuple[Reply, ...], MinLen(1)]
    neighbours: tuple[str, ...] = ()
    """The numbers of other units of this scheme on the same pair, for the check."""
    never: tuple[Never, ...] = ()
    source: dict[str, str] = field(default_factory=dict, hash=False, compare=False)

    @property
    def middle_hz(self) -> float:
        """A reply's tone above it is a high one, any other a low one [Hz]."""
        hz = [tone.hz for reply in self.reply for tone in reply.tone if tone.hz > 0]
        return (min(hz) + max(hz)) / 2 if hz else 0.0

    def command_for(self, does: str) -> Command:
        """Return the command that does something; a scheme without faults has one for each."""
        return next(each for each in self.command if each.does == does)
