"""`farend-sim drill`: hidden troubles to find, marks for how, and a class that can be followed.

Law: a sub-command's module is imported only when it is asked for; a new one is a row of _WHERE.
"""

import click

from tui.commands.lazy import LazyCommands

_WHERE = {
    "list": "tui.commands.drill_list:listing",
    "do": "tui.commands.drill_do:do",
    "verdict": "tui.commands.drill_debrief:verdict",
    "debrief": "tui.commands.drill_debrief:debrief",
    "class": "tui.commands.drill_class:book",
    "new": "tui.commands.drill_new:new",
    "solve": "tui.commands.drill_solve:solve",
    "seal": "tui.commands.drill_seal:seal",
    "calibrate": "tui.commands.drill_calibrate:calibrate",
}
"""Sub-command: module and name."""


@click.group(cls=LazyCommands, where=_WHERE)
def drill() -> None:
    """Find a hidden trouble, and be marked for how it was found.

    DRILL is a file, or the name of one that ships. No reading here proves a real pair safe; local
    codes and licensed practice come first.
    """
