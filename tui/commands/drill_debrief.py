"""`farend-sim drill debrief` and `verdict`: what an attempt was worth, and the lesson of it."""

import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json, write_out
from tui.commands.options import as_json, as_page, in_feet

if TYPE_CHECKING:
    from farend_sim.drill.work.attempt import Attempt


@click.command(short_help="The marks of an attempt.")
@click.argument("journal", type=click.Path(path_type=Path))
@in_feet
@as_json
def verdict(journal: Path, feet: bool, as_json: bool) -> None:
    """Mark the attempt in JOURNAL. It must be handed in. Exit 1: not passed."""
    from farend_sim.drill.marks.verdict import judge
    from farend_sim.drill.marks.verdict_text import verdict_text

    judged = judge(_attempt(journal))
    if as_json:
        echo_json(asdict(judged))
    else:
        click.echo(verdict_text(judged, feet))
    sys.exit(0 if judged.passed else 1)


@click.command(short_help="The lesson of an attempt, as text or a page.")
@click.argument("journal", type=click.Path(path_type=Path))
@as_page
@in_feet
def debrief(journal: Path, page: Path | None, feet: bool) -> None:
    """Tell the lesson of the attempt in JOURNAL, which must be handed in: it holds the answer."""
    from farend_sim.drill.lesson import debrief as lesson_of
    from farend_sim.drill.lesson.debrief_page import debrief_page
    from farend_sim.drill.lesson.debrief_text import debrief_text

    lesson = lesson_of.debrief(_attempt(journal), feet)
    if page is not None:
        write_out(page, debrief_page(lesson, feet))
        click.echo(page, err=True)
        return
    click.echo(debrief_text(lesson, feet), nl=False)


def _attempt(journal: Path) -> "Attempt":
    from farend_sim.drill.work import kept
    from farend_sim.errors import BadFileError

    attempt = kept.read(journal)
    if not attempt.handed_in:
        raise BadFileError(f"{journal}: found it under way, expected it handed in (`done`)")
    return attempt
