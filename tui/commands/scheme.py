"""`farend-sim scheme`: a set of control codes shown, checked, tried and carried away.

Law: a sub-command's module is imported only when it is asked for; a new one is a row of _WHERE.
"""

from importlib import import_module

import click

_WHERE = {
    "check": "tui.commands.scheme_check:check",
    "export": "tui.commands.scheme_export:export",
    "show": "tui.commands.scheme_show:show",
    "trial": "tui.commands.scheme_trial:trial",
}
"""Sub-command: module and name."""


class LazyCommands(click.Group):
    """A group that imports a command when it is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted(_WHERE)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _WHERE:
            return None
        module, _, name = _WHERE[cmd_name].partition(":")
        command: click.Command = getattr(import_module(module), name)
        return command


@click.group(cls=LazyCommands)
def scheme() -> None:
    """Show, check and carry away a set of control codes.

    FILE is a scheme's TOML file, or the name of a shipped one.
    """
