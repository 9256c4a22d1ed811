"""The keys of a command, as somebody with the card in hand would dial them."""

from farend_sim.unit.codes import CompiledCommand, CompiledScheme, compiled, damm
from farend_sim.unit.scheme import Scheme


def keys_for(scheme: CompiledScheme, command: CompiledCommand, seconds: int | None = None) -> str:
    """Return a command's keys, check digit and end key included; seconds are its argument.

    A command that must be confirmed is keyed twice.
    """
    width = command.argument_digits
    body = command.prefix + (f"{seconds or 0:0{width}}" if width else "")
    if command.checked_from is not None:
        body += str(damm(scheme.check_table, body[command.checked_from :]))
    keys = body + command.end
    return keys + keys if command.confirmed else keys


def dialled(scheme: Scheme, does: str) -> str:
    """Return the keys of what a scheme does, of one that needs no argument or with noughts."""
    code = compiled(scheme)
    return keys_for(code, code.of(does))
