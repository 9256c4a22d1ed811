"""A command of commands that imports one only when it is used, so that help answers at once."""

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click


class LazyCommands(click.Group):
    """A group whose sub-commands are rows, listed as they stand: name to `module:name`."""

    def __init__(self, *args: Any, where: Mapping[str, str], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._where = where

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self._where)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in self._where:
            return None
        module, _, name = self._where[cmd_name].partition(":")
        command: click.Command = getattr(import_module(module), name)
        return command
