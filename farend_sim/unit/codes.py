"""A scheme compiled into what the firmware keeps.

Law: compiled() is for schemes without problems(); it translates and judges nothing.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from farend_sim.unit.effects import Segment, Voice
from farend_sim.unit.scheme import Command, Scheme
from farend_sim.unit.table import Input, State
from farend_sim.unit.ticks import to_us

_S_US = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledCommand:
    """One command as keys to compare with and numbers to act on."""

    input: Input
    prefix: str
    """Start key and code."""
    argument_digits: int
    checked_from: int | None
    """Where the digits begin that the check digit covers; None where there is no check digit."""
    end: str
    taken_in: frozenset[State]
    reply: str
    keeps_attention: bool
    confirmed: bool
    hold_us: int | None
    shortest_us: int | None
    longest_us: int | None

    @property
    def length(self) -> int:
        """How many keys it has in all."""
        checks = self.checked_from is not None
        return len(self.prefix) + self.argument_digits + checks + len(self.end)

    @property
    def values(self) -> range:
        """Every argument that is taken, in whole seconds; 0 alone where it has none."""
        if not self.argument_digits:
            return range(1)
        least, most = -(-(self.shortest_us or 0) // _S_US), (self.longest_us or 0) // _S_US
        return range(least, min(most, 10**self.argument_digits - 1) + 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class CompiledScheme:
    """All the decoder and the firmware know of a scheme."""

    knock: str
    """With the unit's number."""
    restart: str
    """The key that closes attention and begins a knock; empty where none does."""
    start: str
    end: str
    gap_us: int
    attention_us: int
    leftover: Literal["close", "drop", "keep"]
    knock_after_hold: bool
    refusals_to_lock: int
    lock_us: int
    check_table: tuple[tuple[int, ...], ...]
    commands: tuple[CompiledCommand, ...]
    replies: Mapping[str, Voice] = field(hash=False)

    @property
    def longest(self) -> int:
        """How many keys the longest command has."""
        return max(command.length for command in self.commands)

    def of(self, does: str) -> CompiledCommand:
        """Return the command that does something."""
        return next(each for each in self.commands if each.input is Input(does))

    def voice(self, reply: str, state: State) -> Voice:
        """Return a reply; a reply that has a pattern for the state takes that one."""
        return self.replies.get(f"{reply}-{state.value}", self.replies[reply])


def compiled(scheme: Scheme) -> CompiledScheme:
    """Translate a scheme without problems."""
    return CompiledScheme(
        knock=scheme.knock + scheme.unit_number,
        restart=scheme.knock[0] if scheme.restart else "",
        start=scheme.start,
        end=scheme.end,
        gap_us=to_us(scheme.gap_s),
        attention_us=to_us(scheme.attention_s),
        leftover=scheme.leftover,
        knock_after_hold=scheme.knock_after_hold,
        refusals_to_lock=scheme.lockout.refusals,
        lock_us=to_us(scheme.lockout.lock_s),
        check_table=scheme.check_table,
        commands=tuple(_compiled_command(scheme, command) for command in scheme.command),
        replies={
            reply.name: Voice(tuple(Segment(one.hz, one.duration_ms * 1000) for one in reply.tone))
            for reply in scheme.reply
        },
    )


def _compiled_command(scheme: Scheme, command: Command) -> CompiledCommand:
    prefix = scheme.start + command.code
    checked_from = {
        "none": None,
        "argument": len(prefix) if command.argument_digits else None,
        "command": len(scheme.start),
    }[scheme.check]
    return CompiledCommand(
        input=Input(command.does),
        prefix=prefix,
        argument_digits=command.argument_digits,
        checked_from=checked_from,
        end=scheme.end,
        taken_in=frozenset(State(name) for name in command.taken_in),
        reply=command.reply,
        keeps_attention=command.keeps_attention,
        confirmed=command.confirmed,
        hold_us=_optional_us(command.hold_s),
        shortest_us=_optional_us(command.shortest_s),
        longest_us=_optional_us(command.longest_s),
    )


def _optional_us(seconds: float | None) -> int | None:
    return None if seconds is None else to_us(seconds)


def damm(table: tuple[tuple[int, ...], ...], digits: str) -> int:
    """Return the check digit; over digits and their own check digit it is 0.

    Source: H. M. Damm, dissertation, 2004; from memory.
    """
    interim = 0
    for digit in digits:
        interim = table[interim][int(digit)]
    return interim
