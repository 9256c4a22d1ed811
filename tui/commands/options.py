"""Options that several commands have, each in one wording."""

from pathlib import Path

import click

SHIPPED = "A file, or the name of one that ships."
FILE = click.Path(dir_okay=False, path_type=Path)

as_json = click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
in_feet = click.option("--feet", is_flag=True, help="Show lengths in feet.")
as_page = click.option("--html", "page", metavar="FILE", type=FILE, help="Write a page.")
by_unit = click.option("--unit", default="reference", show_default=True, help=SHIPPED)
of_curriculum = click.option("--curriculum", default="reference", show_default=True, help=SHIPPED)
on_jobs = click.option("--jobs", type=click.IntRange(1, 1024), help="Processes.  [all cores]")
resumed = click.option(
    "--resume", metavar="FILE", type=FILE, help="A journal: what it has is not done again."
)
