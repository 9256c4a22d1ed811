"""`farend-sim drill solve`: the expert on a drill, or on readings of it that somebody else took."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json
from tui.commands.options import as_json

if TYPE_CHECKING:
    from farend_sim.drill.drill import Drill


@click.command("solve", short_help="Let the expert find the trouble; or weigh readings.")
@click.argument("name", metavar="DRILL")
@click.option(
    "--readings", type=click.Path(path_type=Path, dir_okay=False), help="Weigh these alone."
)
@click.option("--steps", "as_steps", is_flag=True, help="Print steps for `run`.")
@as_json
def solve(name: str, readings: Path | None, as_steps: bool, as_json: bool) -> None:
    """Read, rank what may be wrong, choose the reading that tells most, until it is pinned down.

    The expert sees what a trainee sees: readings, the record, the meters' accuracy. It is for
    trainers: what it prints is the answer. Exit 1: the trouble is not pinned down.
    """
    from farend_sim.drill.files import find_drill

    drill = find_drill(name)
    pinned = _weigh(drill, readings, as_json) if readings else _solve(drill, as_steps, as_json)
    click.get_current_context().exit(0 if pinned else 1)


def _solve(drill: "Drill", as_steps: bool, as_json: bool) -> bool:
    from farend_sim.drill.solving.opinion_text import (
        answer_words,
        ranking_lines,
        solution_json,
        step_line,
    )
    from farend_sim.drill.solving.solve import solve_drill
    from farend_sim.drill.solving.solve_steps import steps_text

    solution = solve_drill(drill)
    if as_steps:
        click.echo(steps_text(solution, drill), nl=False)
    elif as_json:
        echo_json(solution_json(solution))
    else:
        click.echo(f"{drill.title}")
        for number, step in enumerate(solution.steps, start=1):
            click.echo(step_line(number, step))
        heard = "answered" if solution.heard else "not answered"
        click.echo(f"The knock was {heard}; {solution.why}.")
        for line in ranking_lines(solution.opinion):
            click.echo(line)
        for answer in solution.opinion.best.answers():
            click.echo(f"answer {answer_words(answer, drill.lesson.asks)}")
    return solution.pinned


def _weigh(drill: "Drill", readings: Path, as_json: bool) -> bool:
    from farend_sim.drill.expert.expert import expert
    from farend_sim.drill.expert.readings_file import read_looks
    from farend_sim.drill.solving.solve import asks_of, idle_of
    from tui.commands.second_opinion import tell, weighable

    situation = drill.situation
    who = expert(situation, doubt=drill.lesson.doubt)
    taken = weighable(who, read_looks(readings, dict(situation.meters)), readings)
    return tell(who, taken, asks_of(drill), idle_of(drill), as_json)
