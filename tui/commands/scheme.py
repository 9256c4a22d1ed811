"""`farend-sim scheme`: a set of control codes shown, checked, tried and carried away.

Law: a sub-command's module is imported only when it is asked for; a new one is a row of _WHERE.
"""

import click

from tui.commands.lazy import LazyCommands

_WHERE = {
    "show": "tui.commands.scheme_show:show",
    "check": "tui.commands.scheme_check:check",
    "trial": "tui.commands.scheme_trial:trial",
    "export": "tui.commands.scheme_export:export",
}
"""Sub-command: module and name."""


@click.group(cls=LazyCommands, where=_WHERE)
def scheme() -> None:
    """Show, check and carry away a set of control codes.

    FILE is a scheme's TOML file, or the name of a shipped one.
    """
