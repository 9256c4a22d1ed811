"""`farend-sim run`: a scenario stepped through, as a transcript."""

from typing import TYPE_CHECKING

import click

from farend_sim.cautions import FIRST
from farend_sim.errors import BadFileError
from tui.commands.answers import echo_json
from tui.commands.options import in_feet

if TYPE_CHECKING:
    from collections.abc import Iterator

    from farend_sim.bench.steps import Step
    from farend_sim.bench.steps.transcript import Row
    from farend_sim.situation import Situation


@click.command()
@click.argument("scenario", required=False)
@click.option(
    "--steps",
    "steps_file",
    metavar="FILE",
    help="The steps to play, or - for standard input. Left out: NAME.steps beside NAME.toml.",
)
@click.option(
    "-i",
    "--interactive",
    is_flag=True,
    help="Type steps, line by line: `help` tells them, `quit` ends it.",
)
@click.option("--show-unit", is_flag=True, help="Show what only the far end sees.")
@in_feet
@click.option("--json", "as_json", is_flag=True, help="Print JSON Lines.")
def run(
    scenario: str | None,
    steps_file: str | None,
    interactive: bool,
    show_unit: bool,
    feet: bool,
    as_json: bool,
) -> None:
    """Play the steps of SCENARIO and print what came of each.

    SCENARIO is a file or the name of a shipped one; left out, it is the first to look at.
    """
    from farend_sim.bench.steps.transcript import play
    from farend_sim.files import load_situation
    from farend_sim.shipped import first_scenario
    from tui.plain.transcript_text import lines_of

    if interactive and steps_file is not None:
        raise click.UsageError("found --interactive and --steps, expected one of them")
    situation = load_situation(first_scenario() if scenario is None else scenario)
    steps = () if interactive else _steps(situation, steps_file)
    if not as_json:
        click.echo(FIRST, err=True)
        click.echo(_heading(situation))
    for done in _typed(situation, show_unit) if interactive else play(situation, steps, show_unit):
        if isinstance(done, str | BadFileError):
            click.echo(str(done), err=isinstance(done, BadFileError))
        elif as_json:
            echo_json(done)
        else:
            click.echo("\n".join(lines_of(done, feet)))


def _typed(situation: "Situation", show_unit: bool) -> "Iterator[Row | str | BadFileError]":
    from tui.plain.line_by_line import ASKS, worked
    from tui.plain.typed_lines import typed

    return worked(situation, typed(ASKS), show_unit)


def _steps(situation: "Situation", steps_file: str | None) -> "tuple[Step, ...]":
    """The steps that were named, or those beside the scenario."""
    from farend_sim.bench.steps.grammar import parse_for
    from farend_sim.loading.document import read_text
    from tui.plain.typed_lines import text_of

    if steps_file is not None:
        return parse_for(situation, *text_of(steps_file))
    beside = situation.path.with_suffix(".steps")
    return parse_for(situation, read_text(beside, beside.name), beside.name)


def _heading(situation: "Situation") -> str:
    scenario = situation.scenario
    title = scenario.title or situation.path.stem
    brief = f"\n{scenario.brief.strip()}" if scenario.brief.strip() else ""
    return f"{title}{brief}\n\n{'time':>9}  step"
