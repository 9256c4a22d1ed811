"""`farend-sim locate`: from readings to a place on the record, a sub-command a method."""

from importlib import import_module

import click

METHODS = {
    "loop": "ohms",
    "bridge": "bridge",
    "open": "farads",
    "both-ends": "farads",
    "legs": "ohms",
    "shunt": "ohms",
    "sections": "sections",
    "readings": "readings",
}
"""Each method and the file of tui/commands/locating/ that has its command."""


class Methods(click.Group):
    """A group that imports a method's command when it is asked for."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """`--readings` names no method: it takes all readings at once."""
        if args and args[0].partition("=")[0] == "--readings":
            args = ["readings", *args]
        return super().parse_args(ctx, args)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(METHODS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in METHODS:
            return None
        module = import_module(f"tui.commands.locating.{METHODS[cmd_name]}")
        command: click.Command = getattr(module, cmd_name.replace("-", "_") + "_")
        return command


@click.group(cls=Methods, short_help="Turn readings into a place on a plant's record.")
def locate() -> None:
    """Turn readings, of the simulator or of the field, into a place on a plant's record.

    The record is the [plant] of a scenario, or a file with only format = 1 and [plant]. Every place
    comes with the band that instrument, gauge and temperature leave open, each taken at its worst.

    No reading here proves a real pair safe; local codes and licensed practice come first.
    """
