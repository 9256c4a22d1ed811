"""The keys of a command, as somebody with the card in hand would dial them."""

from farend_sim.unit.codes import CompiledCommand, CompiledScheme, compiled, damm
from farend_sim.unit.scheme import Scheme


def keys_for(scheme: CompiledScheme, command: CompiledCommand, seconds: int | None = None) -> str:
    """Return a command's keys, check digit and end key included; seconds are its argument.

    A command that must be confirmed is keyed twice.
    """
    width = command.argument_digits
    keys = _spelt(scheme, command, f"{seconds or 0:0{width}}" if width else "")
    return keys + keys if command.confirmed else keys


def written(scheme: CompiledScheme, command: CompiledCommand) -> str:
    """Return its keys as a card has them: `s` for a digit of seconds, `c` for their check digit."""
    return _spelt(scheme, command, "s" * command.argument_digits)


def _spelt(scheme: CompiledScheme, command: CompiledCommand, argument: str) -> str:
    body, check = command.prefix + argument, ""
    if command.checked_from is not None:
        covered = body[command.checked_from :]
        check = str(damm(scheme.check_table, covered)) if covered.isdecimal() else "c"
    return body + check + command.end


def dialled(scheme: Scheme, does: str) -> str:
    """Return the keys of what a scheme does, of one that needs no argument or with noughts."""
    code = compiled(scheme)
    return keys_for(code, code.of(does))
