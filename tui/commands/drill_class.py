"""`farend-sim drill class`: the class book shown, carried away, backed up, and names taken out."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.answers import show_answer
from tui.commands.options import as_json, as_page

if TYPE_CHECKING:
    from farend_sim.drill.book.class_book import ClassBook


@click.group("class", short_help="A class: trainees, attempts, verdicts, progress by skill.")
def book() -> None:
    """Follow a class in one file, which `drill do --class FILE --trainee NAME` writes.

    Nothing leaves this machine.
    """


_FILE = click.argument("file", type=click.Path(path_type=Path))


@book.command(short_help="How the class does, as text, a page or JSON.")
@_FILE
@as_page
@as_json
def show(file: Path, page: Path | None, as_json: bool) -> None:
    """Show attempts, progress by skill, and the errors of the class."""
    from farend_sim.drill.book.class_answer import class_answer

    with _open(file) as found:
        show_answer(class_answer(found), as_json, page)


@book.command(short_help="Carry a table away as CSV.")
@_FILE
@click.argument("what", type=click.Choice(["attempts", "progress", "readings"]))
def csv(file: Path, what: str) -> None:
    """Print attempts, progress by skill, or all readings as comma-separated values."""
    import csv as lines

    with _open(file) as found:
        rows = {"attempts": found.attempts, "progress": found.progress, "readings": found.readings}
        table = rows[what]()
    writer = lines.writer(sys.stdout, lineterminator="\n")
    if table:
        writer.writerow(table[0])
        writer.writerows(row.values() for row in table)


@book.command(short_help="Copy the book, whoever writes meanwhile.")
@_FILE
@click.argument("to", type=click.Path(path_type=Path))
def backup(file: Path, to: Path) -> None:
    """Copy the book FILE to a new file TO."""
    with _open(file) as found:
        found.backup(to)
    click.echo(to, err=True)


@book.command(short_help="Print an attempt's journal, for verdict and debrief.")
@_FILE
@click.argument("attempt", type=int)
def journal(file: Path, attempt: int) -> None:
    """Print the journal of ATTEMPT, a number that `show` tells."""
    with _open(file) as found:
        click.echo(found.journal(attempt), nl=False)


@book.command(short_help="Delete a trainee with all that is theirs.")
@_FILE
@click.argument("trainee")
@click.option("--yes", is_flag=True, help="Do not ask.")
def delete(file: Path, trainee: str, yes: bool) -> None:
    """Delete TRAINEE with all attempts, verdicts and readings; nothing of them stays in the file.

    Journals that a trainee keeps elsewhere, and backups, are not touched.
    """
    with _open(file) as found:
        known = {str(row["trainee"]) for row in found.attempts()}
        if not yes and trainee in known:
            click.confirm(f"Delete {trainee} with everything?", abort=True, err=True)
        count = found.delete(trainee)
    click.echo(f"deleted {trainee} and {count} attempts", err=True)


def _open(file: Path) -> "ClassBook":
    from farend_sim.drill.book.class_book import ClassBook

    return ClassBook.open(file, create=False)
