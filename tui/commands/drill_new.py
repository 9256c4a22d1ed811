"""`farend-sim drill new`: a drill of one's own by level and seed, proved solvable."""

from pathlib import Path

import click

from tui.commands.answers import write_out
from tui.commands.options import of_curriculum


@click.command("new", short_help="Make a drill by level and seed, proved solvable.")
@click.option("--level", type=click.IntRange(1, 9), required=True)
@click.option("--seed", type=click.IntRange(0, 2**31 - 1), default=0, show_default=True)
@of_curriculum
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="Where to write it.")
@click.option("--open", "in_clear", is_flag=True, help="Unsealed, for the trainer.")
def new(level: int, seed: int, curriculum: str, out: Path | None, in_clear: bool) -> None:
    """Make a drill, sealed for a trainee. The same level and seed give the same drill.

    It is kept only if the expert pins its trouble down with the meters at hand, and if the middle
    of the route is not near enough to its place.
    """
    from farend_sim.drill.files import sealed_text
    from farend_sim.drill.making.curriculum import find_curriculum
    from farend_sim.drill.making.generate import new_drill

    made = new_drill(find_curriculum(curriculum), level, seed)
    text = made.drill.sealed.source if in_clear else sealed_text(made.drill)
    if out is None:
        click.echo(text, nl=False)
        return
    write_out(out, text)
    readings = len(made.solution.steps)
    click.echo(f"{out}: {made.drill.title}; the expert needs {readings} readings", err=True)
