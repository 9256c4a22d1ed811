"""Lines that a person types, or that come through a pipe or from a file."""

import sys
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module
from pathlib import Path

import click

STDIN = "-"
"""A file's name that stands for standard input."""


def text_of(file: str) -> tuple[str, str]:
    """A file's text, or that of standard input, and its name in messages."""
    from farend_sim.loading.document import decoded, read_text

    if file != STDIN:
        return read_text(Path(file), file), file
    return decoded(sys.stdin.buffer.read(), "standard input"), "standard input"


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
