"""What a scheme's commands are keyed as, and what keys do when they are played into the model."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from farend_sim.scheme_lab.check.model import Model, Moment
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.keying import keys_for


class Did(NamedTuple):
    """One command that was taken."""

    command: int
    value: str = ""
    """The argument's digits."""


class Played(NamedTuple):
    """What came of some keys."""

    did: tuple[Did, ...]
    refused: bool
    end: int
    """The moment's number in the model."""


@dataclass(frozen=True, slots=True)
class Word:
    """A command as it is keyed."""

    keys: str
    did: Did


def word(scheme: CompiledScheme, at: int, value: int = 0) -> Word:
    """Spell a command; one that needs to be confirmed is keyed twice."""
    command = scheme.commands[at]
    digits = f"{value:0{command.argument_digits}}" if command.argument_digits else ""
    return Word(keys_for(scheme, command, value), Did(at, digits))


def words(scheme: CompiledScheme, most_values: int) -> Iterator[Word]:
    """Each command; of an argument all values, or so many, evenly spread from end to end."""
    for at, command in enumerate(scheme.commands):
        every = command.values
        if len(every) > most_values:
            last = len(every) - 1
            chosen = sorted({every[last * n // (most_values - 1)] for n in range(most_values)})
        else:
            chosen = list(every)
        for value in chosen:
            yield word(scheme, at, value)


def begin(model: Model, start: Moment) -> Played:
    """Nothing keyed yet."""
    return Played((), False, model.number(start))


def play(model: Model, begun: Played, keys: str, at: int = 0) -> Played:
    """Key on in one go, without a pause, from where so many of the keys have been played."""
    did, refused, number = begun
    for n in range(at, len(keys)):
        number, command, is_refused = model.quick(number, keys[n])
        if command >= 0:
            did = (*did, Did(command, argument(model.scheme, command, keys[: n + 1])))
        elif is_refused:
            refused = True
    return Played(did, refused, number)


def argument(scheme: CompiledScheme, command: int, keys: str) -> str:
    """Read the argument out of keys that have just become a command."""
    of = scheme.commands[command]
    start = len(keys) - of.length + len(of.prefix)
    return keys[start : start + of.argument_digits]
