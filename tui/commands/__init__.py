"""The `farend-sim` commands, one a file: parse, call, print."""

from tui.commands.entry import main

__all__ = ["main"]
