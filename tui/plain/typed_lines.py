"""Lines that a person types, or that come through a pipe."""

import sys
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module

import click


def typed(asks: str) -> Iterator[str]:
    """Lines from a terminal, with its own editing, or from a pipe.

    Args:
        asks: what a terminal shows before each line.
    """
    if not sys.stdin.isatty():
        yield from sys.stdin
        return
    with suppress(ImportError):  # not every machine has it
        import_module("readline")  # where it is, lines can be edited and called back
    while True:
        try:
            yield input(asks)
        except (EOFError, KeyboardInterrupt):
            click.echo("", err=True)
            return
