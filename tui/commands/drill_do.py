"""`farend-sim drill do`: a drill worked line by line, or from a file, and marked."""

import sys
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json
from tui.commands.options import as_json, in_feet

if TYPE_CHECKING:
    from farend_sim.drill.work.attempt import Attempt
    from tui.plain.drill_talk import Talk


@click.command(short_help="Work a drill, and be marked.")
@click.argument("drill")
@click.option("--steps", "steps_file", metavar="FILE", help="Play FILE, or - for standard input.")
@click.option(
    "--journal",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Where the attempt is kept; one that is there goes on. Left out: your data folder.",
)
@click.option("--again", is_flag=True, help="Begin anew; an old attempt is kept.")
@click.option("--seed", type=click.IntRange(0, 2**63 - 1), help="Other instruments than usual.")
@click.option("--class", "class_file", type=click.Path(path_type=Path), help="Enter it here too.")
@click.option("--trainee", metavar="NAME", help="Who works it: goes with --class.")
@in_feet
@as_json
def do(
    drill: str,
    steps_file: str | None,
    journal: Path | None,
    again: bool,
    seed: int | None,
    class_file: Path | None,
    trainee: str | None,
    feet: bool,
    as_json: bool,
) -> None:
    """Work DRILL with the steps of `farend-sim run`, typed one by one; `help` tells them all.

    What is typed is on disk before it acts: after a crash or a closed terminal the same command
    goes on where it was. Exit 1: handed in, and not passed.
    """
    from farend_sim.drill.files import find_drill
    from farend_sim.drill.marks.verdict import judge
    from farend_sim.drill.marks.verdict_text import verdict_text
    from tui.person.attempt_files import attempt_in, attempts_folder, path_for

    if (class_file is None) != (trainee is None):
        raise click.UsageError("--class and --trainee go together")
    found = find_drill(drill)
    if class_file is not None:
        _try(class_file)  # before the work, not after it
    anew = again or steps_file is not None
    path = journal or path_for(found.name, attempts_folder(trainee), anew=anew)
    goes_on = path.exists()
    attempt = attempt_in(path, found, trainee, seed)
    if goes_on:
        at_s = attempt.bench.now_us / 1e6
        click.echo(f"goes on at {at_s:.1f} s with {len(attempt.done)} steps done", err=True)
    try:
        _work(attempt, steps_file, feet, quiet=as_json)
    finally:
        attempt.close()
        if class_file is not None and trainee is not None:
            _enter(class_file, trainee, attempt)
    if not attempt.handed_in:
        click.echo(f"not handed in; it goes on from {path}", err=True)
        return
    verdict = judge(attempt)
    if as_json:
        echo_json(asdict(verdict))
    else:
        click.echo("\n" + verdict_text(verdict, feet))
        click.echo(f"\nthe lesson: farend-sim drill debrief {path}", err=True)
    sys.exit(0 if verdict.passed else 1)


def _work(attempt: "Attempt", steps_file: str | None, feet: bool, *, quiet: bool) -> None:
    from farend_sim.drill.told import cautions_text, record_text, ticket_text
    from tui.plain.drill_talk import Talk
    from tui.plain.typed_lines import typed

    def say(text: str) -> None:
        click.echo(text, err=quiet)

    talk = Talk(attempt, say, feet)
    if steps_file is not None:
        _play(attempt, steps_file, talk)
        return
    click.echo(cautions_text() + "\n", err=True)
    say(ticket_text(attempt.drill) + "\n\n" + record_text(attempt.drill, feet) + "\n")
    talk.hear(typed("drill> "))


def _play(attempt: "Attempt", steps_file: str, talk: "Talk") -> None:
    """Play a file whole, or not at all; then it is handed in."""
    from farend_sim.bench.steps.grammar import parse_for
    from tui.plain.typed_lines import text_of

    steps = parse_for(attempt.drill.situation, *text_of(steps_file))
    talk.hear([*(step.text for step in steps), "done"])


def _try(class_file: Path) -> None:
    """Make sure that a class book can be written."""
    from farend_sim.drill.book.class_book import ClassBook

    ClassBook.open(class_file).close()


def _enter(class_file: Path, trainee: str, attempt: "Attempt") -> None:
    from farend_sim.drill.book.class_book import ClassBook

    with ClassBook.open(class_file) as book:
        book.enter(trainee, attempt)
