"""`farend-sim bench`: the same bench under a person's hands, full screen."""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.options import in_feet

if TYPE_CHECKING:
    from tui.person.sitting import Sitting


@click.command(short_help="Open a scenario on a full screen, to be worked by hand.")
@click.argument("scenario", required=False)
@click.option(
    "--logbook",
    "logbook",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Where the logbook is written, one JSON line an entry, behind what is there. "
    "Left out: a file of the scenario's name in your data folder.",
)
@click.option("--trainer", is_flag=True, help="Show the far end's inside.")
@click.option(
    "--class",
    "class_file",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Enter drills into this class book; with --trainer, home lists it.",
)
@click.option("--trainee", metavar="NAME", help="Who works here; left out, the screen asks.")
@in_feet
@click.option("--light", is_flag=True, help="Dark letters on light.")
def bench(
    scenario: str | None,
    logbook: Path | None,
    trainer: bool,
    class_file: Path | None,
    trainee: str | None,
    feet: bool,
    light: bool,
) -> None:
    """Work SCENARIO by hand: keypad, meters, an ear on the pair, a logbook.

    SCENARIO is a file or the name of a shipped one; left out, home opens, where all there is can be
    chosen. ? on the screen tells the keys. No reading here proves a real pair safe.
    """
    sitting = None if scenario is None else _sitting(scenario, logbook)
    _demand_file(logbook)
    demand_book(class_file)
    _demand_terminal()
    from tui.app import PairBench
    from tui.pace import Pace
    from tui.school import School

    app = PairBench(
        sitting,
        Pace(),
        feet=feet,
        trainers=trainer,
        light=light,
        logbook=logbook,
        school=School(class_file, trainee),
    )
    app.run()
    for path, written in app.written.items():
        click.echo(f"logbook: {written} written, in {path}", err=True)


def _sitting(scenario: str, logbook: Path | None) -> "Sitting":
    from farend_sim.files import load_situation
    from tui.opening import free_sitting

    return free_sitting(load_situation(scenario), logbook)


def _demand_file(logbook: Path | None) -> None:
    """A logbook that cannot be written is told before anything could be lost."""
    if logbook is not None:
        from tui.person.logbook_file import LogbookFile

        LogbookFile(logbook)


def demand_book(class_file: Path | None) -> None:
    """A class book that is none is told before anybody works for it; a new one is made later."""
    if class_file is not None and class_file.exists():
        from farend_sim.drill.book.class_book import ClassBook

        ClassBook.open(class_file).close()


def _demand_terminal() -> None:
    from farend_sim.errors import BadFileError

    if os.environ.get("TEXTUAL_DRIVER"):  # a server draws it in a browser
        return
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise BadFileError("found no terminal to draw on; expected one (for files, farend-sim run)")
