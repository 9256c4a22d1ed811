"""`farend-sim drill list`: the drills that ship, in teaching order."""

import click

from tui.commands.answers import echo_json
from tui.commands.options import as_json


@click.command("list", short_help="The drills that ship, in teaching order.")
@as_json
def listing(as_json: bool) -> None:
    """List the drills that ship, in teaching order; none says what is wrong."""
    from farend_sim import shipped
    from farend_sim.drill.files import find_drill

    found = map(find_drill, shipped.names("drills"))
    drills = sorted(found, key=lambda one: (one.lesson.level, one.lesson.order, one.name))
    rows = [
        {
            "order": one.lesson.order,
            "level": one.lesson.level,
            "name": one.name,
            "title": one.title,
            "budget_s": one.lesson.budget_s,
            "meters": list(one.meters),
        }
        for one in drills
    ]
    if as_json:
        echo_json({"drills": rows})
        return
    wide = max((len(one.name) for one in drills), default=0)
    for one in drills:
        click.echo(f"level {one.lesson.level}  {one.name:<{wide}}  {one.title}")
