"""`farend-sim locate`: from readings to a place on the record, a sub-command a method."""

import click

from tui.commands.lazy import LazyCommands

METHODS = {
    "loop": "tui.commands.locating.ohms:loop_",
    "bridge": "tui.commands.locating.bridge:bridge_",
    "open": "tui.commands.locating.farads:open_",
    "both-ends": "tui.commands.locating.farads:both_ends_",
    "legs": "tui.commands.locating.ohms:legs_",
    "shunt": "tui.commands.locating.ohms:shunt_",
    "sections": "tui.commands.locating.sections:sections_",
    "--readings": "tui.commands.locating.readings:readings_",
}
"""Sub-command: module and name."""


class Methods(LazyCommands):
    """`--readings FILE` stands where others have a name: it takes all readings at once."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        if args and args[0].partition("=")[0] == "--readings":
            no_file = args[1:2] in (["--help"], ["-h"])
            args = ["--", "--readings", *args[no_file:]]
        return super().parse_args(ctx, args)


@click.group(
    cls=Methods, where=METHODS, short_help="Turn readings into a place on a plant's record."
)
def locate() -> None:
    """Turn readings, of the simulator or of the field, into a place on a plant's record.

    The record is the [plant] of a scenario, or a file with only format = 1 and [plant]. Every place
    comes with the band that instrument, gauge and temperature leave open, each taken at its worst.

    No reading here proves a real pair safe; local codes and licensed practice come first.
    """
