"""`farend-sim drill calibrate`: many drills of a level, proved, counted and held to their bands."""

import os
from pathlib import Path

import click

from tui.commands.answers import show_answer
from tui.commands.many import run_many


@click.command("calibrate", short_help="Make many drills of a level; see what they come to.")
@click.option("--level", type=click.IntRange(1, 9), required=True)
@click.option("--drills", type=click.IntRange(1, 1_000_000), default=100, show_default=True)
@click.option("--seed", type=click.IntRange(0, 2**30), default=0, show_default=True, help="First.")
@click.option("--curriculum", default="reference", show_default=True, help="A file or its name.")
@click.option("--jobs", type=click.IntRange(1, 1024), help="Processes.  [all cores]")
@click.option("--resume", type=click.Path(path_type=Path, dir_okay=False), help="A journal.")
@click.option("--html", type=click.Path(path_type=Path, dir_okay=False), help="Write a page.")
@click.option("--json", "as_json", is_flag=True, default=False, help="Print one JSON object.")
def calibrate(
    level: int, drills: int, seed: int, curriculum: str, jobs: int | None,
    resume: Path | None, html: Path | None, as_json: bool,
) -> None:  # fmt: skip
    """Make drills of a level and hold the expert to what it says of its own certainty.

    Kinds are counted beside the curriculum's shares; the true places beside the expert's bands,
    which should hold as often as they say, whether a drill was kept or not.
    """
    from functools import partial

    from farend_sim.campaign import Where
    from farend_sim.drill import curriculum as of
    from farend_sim.drill.calibrate import drill_row, report
    from farend_sim.drill.calibrate_answer import answer
    from farend_sim.files import find

    whole = find(of.Curriculum, "curricula", curriculum, of.problems)
    rows = run_many(
        partial(drill_row, whole, level),
        range(seed, seed + drills),
        Where(jobs or os.cpu_count() or 1),
        label="drills",
        journal=resume,
        subject=f"drills of level {level} of {curriculum} from {seed}",
    )
    show_answer(answer(report(whole, level, rows)), as_json, html)
