"""`farend-sim drill calibrate`: many drills of a level, proved, counted and held to their bands."""

import os
from pathlib import Path

import click

from tui.commands.answers import show_answer
from tui.commands.many import run_many
from tui.commands.options import as_json, as_page, of_curriculum, on_jobs, resumed


@click.command("calibrate", short_help="Make many drills of a level; see what they come to.")
@click.option("--level", type=click.IntRange(1, 9), required=True)
@click.option("--drills", type=click.IntRange(1, 1_000_000), default=100, show_default=True)
@click.option("--seed", type=click.IntRange(0, 2**30), default=0, show_default=True, help="First.")
@of_curriculum
@on_jobs
@resumed
@as_page
@as_json
def calibrate(
    level: int, drills: int, seed: int, curriculum: str, jobs: int | None,
    resume: Path | None, page: Path | None, as_json: bool,
) -> None:  # fmt: skip
    """Make drills of a level and hold the expert to what it says of its own certainty.

    Kinds are counted beside the curriculum's shares; the true places beside the expert's bands,
    which should hold as often as they say, whether a drill was kept or not.
    """
    from functools import partial

    from farend_sim.campaign import Where
    from farend_sim.drill.making.calibrate import drill_row, report
    from farend_sim.drill.making.calibrate_answer import answer
    from farend_sim.drill.making.curriculum import find_curriculum

    whole = find_curriculum(curriculum)
    rows = run_many(
        partial(drill_row, whole, level),
        range(seed, seed + drills),
        Where(jobs or os.cpu_count() or 1),
        label="drills",
        journal=resume,
        subject=f"drills of level {level} of {curriculum} from {seed}",
    )
    show_answer(answer(report(whole, level, rows)), as_json, page)
