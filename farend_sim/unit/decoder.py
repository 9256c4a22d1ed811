"""Keys and time become the table's inputs.

Law 1: a command acts at one key and at its exact length, or it is refused; nothing half-right acts.
Law 2: a refusal, a gap and the restart key close attention. What follows is nothing until a knock.
Law 3: every code, length and time comes from the scheme.
"""

from dataclasses import dataclass

from farend_sim.unit.codes import CompiledCommand, CompiledScheme, damm
from farend_sim.unit.table import Input, State

_DIGITS = frozenset("0123456789")


@dataclass(frozen=True, slots=True)
class Meant:
    """An input for the table, with what came with it."""

    input: Input
    reply: str = ""
    """The name of the command's reply."""
    hold_us: int | None = None
    """A function's hold in the file, or what set-hold sets."""


_REFUSE = Meant(Input.REFUSE)


class Decoder:
    """What has been keyed so far, and whether the unit attends."""

    __slots__ = (
        "_deadline_us",
        "_keys",
        "_locked_until_us",
        "_paused",
        "_refusals",
        "_scheme",
        "_unconfirmed",
        "attentive",
    )

    def __init__(self, scheme: CompiledScheme) -> None:
        self._scheme = scheme
        self.reset()

    def reset(self) -> None:
        """Forget everything, a lockout too."""
        self.attentive = False
        self._keys = ""
        self._unconfirmed = ""
        self._paused = False
        self._deadline_us: int | None = None
        self._refusals = 0
        self._locked_until_us = 0

    def open(self, now_us: int) -> None:
        """Attend from now on: a command's first key has the whole attention time."""
        self.attentive = True
        self._forget()
        self._deadline_us = now_us + self._scheme.attention_us

    def close(self) -> None:
        """Attend no longer. A knock that has begun goes on."""
        if self.attentive:
            self.attentive = False
            self._forget()

    @property
    def keyed(self) -> str:
        """The keys that are kept."""
        return self._keys

    @property
    def deadline_us(self) -> int | None:
        """When the gap, or attention, is too long."""
        return self._deadline_us

    def wake(self, now_us: int) -> Meant | None:
        """Let the time run out; a knock that was left unfinished is nobody's business."""
        if self._deadline_us is None or now_us < self._deadline_us:
            return None
        if self.attentive and self._keys and not self._paused and self._scheme.leftover != "close":
            self._pause(now_us)
            return None
        lapsed = self.attentive
        self.attentive = False
        self._forget()
        return Meant(Input.LAPSE) if lapsed else None

    def _pause(self, now_us: int) -> None:
        """Attend on after too long a gap, with or without what was keyed."""
        self._paused = self._scheme.leftover == "keep"
        if not self._paused:
            self._keys = ""
        self._deadline_us = now_us + self._scheme.attention_us

    def hear(self, key: str, now_us: int, state: State) -> Meant | None:
        """Take one key; the state decides which commands are taken."""
        if now_us < self._locked_until_us:
            return None
        if not self.attentive:
            return self._hear_knock(key, now_us)
        if key == self._scheme.restart:
            self.close()
            self._hear_knock(key, now_us)
            return Meant(Input.RESTART)
        return self._hear_command(key, now_us, state)

    def _hear_knock(self, key: str, now_us: int) -> Meant | None:
        """Keep the longest end of what was keyed that begins the knock."""
        seen = self._keys + key
        while not self._scheme.knock.startswith(seen):
            seen = seen[1:]
        if seen == self._scheme.knock:
            self.open(now_us)
            return Meant(Input.KNOCK)
        self._keys = seen
        self._deadline_us = now_us + self._scheme.gap_us if seen else None
        return None

    def _hear_command(self, key: str, now_us: int, state: State) -> Meant | None:
        start = self._scheme.start
        if start and (key == start) == bool(self._keys):
            return self._refuse(now_us)  # a frame without its start key, or one inside another
        self._paused = False
        # One key more than any command has is enough to know that none will fit.
        self._keys = (self._keys + key)[: self._scheme.longest + 1]
        if key == self._scheme.end if self._scheme.end else self._is_decided():
            return self._judge(now_us, state)
        self._deadline_us = now_us + self._scheme.gap_us
        return None

    def _is_decided(self) -> bool:
        """Without an end key: a command is whole, or none can come of these keys."""
        keys = self._keys
        possible = [
            command
            for command in self._scheme.commands
            if len(keys) <= command.length
            and keys[: len(command.prefix)] == command.prefix[: len(keys)]
        ]
        return not possible or any(command.length == len(keys) for command in possible)

    def _judge(self, now_us: int, state: State) -> Meant | None:
        command = self._match()
        if command is None or state not in command.taken_in:
            return self._refuse(now_us)
        hold_us = command.hold_us
        if command.input is Input.SET_HOLD:
            hold_us = self._argument_us(command)
            if hold_us is None:
                return self._refuse(now_us)
        if self._unconfirmed and self._unconfirmed != self._keys:
            return self._refuse(now_us)
        if command.confirmed and not self._unconfirmed:
            keys = self._keys
            self.open(now_us)
            self._unconfirmed = keys
            return None
        self._refusals = 0
        if command.keeps_attention:
            self.open(now_us)
        else:
            self.close()
        return Meant(command.input, command.reply, hold_us)

    def _match(self) -> CompiledCommand | None:
        for command in self._scheme.commands:
            if len(self._keys) == command.length and self._keys.startswith(command.prefix):
                return command if self._is_sound(command) else None
        return None

    def _is_sound(self, command: CompiledCommand) -> bool:
        """Tell whether argument and check digit are digits, and agree."""
        body = self._keys[: command.length - len(command.end)]
        if not _DIGITS.issuperset(body[len(command.prefix) :]):
            return False
        if command.checked_from is None:
            return True
        return damm(self._scheme.check_table, body[command.checked_from :]) == 0

    def _argument_us(self, command: CompiledCommand) -> int | None:
        at = len(command.prefix)
        seconds = int(self._keys[at : at + command.argument_digits])
        return seconds * 1_000_000 if seconds in command.values else None

    def _refuse(self, now_us: int) -> Meant:
        self.close()
        self._refusals += 1
        if self._scheme.refusals_to_lock and self._refusals >= self._scheme.refusals_to_lock:
            self._refusals = 0
            self._locked_until_us = now_us + self._scheme.lock_us
        return _REFUSE

    def _forget(self) -> None:
        self._keys = ""
        self._unconfirmed = ""
        self._paused = False
        self._deadline_us = None
