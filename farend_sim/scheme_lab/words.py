"""What a scheme's commands are keyed as, and what keys do when they are played into the model."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.scheme_lab.model import Model, Moment
from farend_sim.unit.codes import CompiledCommand, CompiledScheme, damm
from farend_sim.unit.table import Input


@dataclass(frozen=True, slots=True)
class Did:
    """One command that was taken."""

    command: int
    value: str = ""
    """The argument's digits."""


@dataclass(frozen=True, slots=True)
class Played:
    """What came of some keys."""

    did: tuple[Did, ...]
    refused: bool
    end: Moment


@dataclass(frozen=True, slots=True)
class Word:
    """A command as it is keyed."""

    keys: str
    did: Did


def word(scheme: CompiledScheme, at: int, value: int = 0) -> Word:
    """Spell a command; one that needs to be confirmed is keyed twice."""
    command = scheme.commands[at]
    digits = f"{value:0{command.argument_digits}}" if command.argument_digits else ""
    body = command.prefix + digits
    if command.checked_from is not None:
        body += str(damm(scheme.check_table, body[command.checked_from :]))
    keys = (body + command.end) * (2 if command.confirmed else 1)
    return Word(keys, Did(at, digits))


def values(command: CompiledCommand) -> range:
    """Every argument that is taken, in whole seconds."""
    if not command.argument_digits:
        return range(1)
    least = -(-(command.shortest_us or 0) // 1_000_000)
    most = (command.longest_us or 0) // 1_000_000
    return range(least, min(most, 10**command.argument_digits - 1) + 1)


def words(scheme: CompiledScheme, most_values: int) -> Iterator[Word]:
    """Each command; of an argument all values, or so many, evenly spread from end to end."""
    for at, command in enumerate(scheme.commands):
        every = values(command)
        if len(every) > most_values:
            last = len(every) - 1
            chosen = sorted({every[last * n // (most_values - 1)] for n in range(most_values)})
        else:
            chosen = list(every)
        for value in chosen:
            yield word(scheme, at, value)


def play(
    model: Model, start: Moment, keys: str, begun: Played | None = None, at: int = 0
) -> Played:
    """Key in one go, without a pause; or go on where so many of the keys have been played."""
    moment = start if begun is None else begun.end
    did: list[Did] = [] if begun is None else list(begun.did)
    refused = begun is not None and begun.refused
    for n in range(at, len(keys)):
        _, moment, act, _ = model.key(moment, keys[n])
        if act is None:
            continue
        refused = refused or act.input is Input.REFUSE
        if act.command >= 0:
            did.append(Did(act.command, argument(model.scheme, act.command, keys[: n + 1])))
    return Played(tuple(did), refused, moment)


def argument(scheme: CompiledScheme, command: int, keys: str) -> str:
    """Read the argument out of keys that have just become a command."""
    of = scheme.commands[command]
    start = len(keys) - of.length + len(of.prefix)
    return keys[start : start + of.argument_digits]
