"""`farend-sim scheme trial`: schemes dialled by the many, over a population of pairs."""

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tui.commands.answers import echo_json, write_out
from tui.commands.many import run_many
from tui.commands.options import as_json, as_page, by_unit, on_jobs, resumed

if TYPE_CHECKING:
    from farend_sim.scheme_lab.trial.trial import Trial


@click.command(short_help="Dial schemes over many simulated pairs, and count what came of it.")
@click.argument("files", metavar="FILE...", nargs=-1, required=True)
@click.option("--plants", type=click.IntRange(1, 1_000_000), default=200, show_default=True)
@click.option(
    "--commands", type=click.IntRange(1, 10_000), default=25, show_default=True, help="A plant."
)
@click.option("--seed", type=click.IntRange(0, 2**31 - 1), default=0, show_default=True)
@click.option("--population", default="district", show_default=True, help="A file or shipped name.")
@by_unit
@on_jobs
@click.option("--cluster", metavar="ADDRESS", help="A dask scheduler, in the place of --jobs.")
@resumed
@as_page
@as_json
def trial(
    files: tuple[str, ...], plants: int, commands: int, seed: int, population: str, unit: str,
    jobs: int | None, cluster: str | None, resume: Path | None, page: Path | None, as_json: bool,
) -> None:  # fmt: skip
    """Dial commands of each scheme over a population of pairs, fingers and keypads.

    All schemes meet the same draws. Rates come with 95 % intervals that count plants as well as
    commands. The same seed gives the same numbers, however many processes there are.
    """
    from farend_sim.campaign import ClusterError, Where, WorkersDifferError
    from farend_sim.scheme_lab.trial.tally import report, table

    asked = _trial(files, commands, seed, population, unit)
    where = Where(jobs or os.cpu_count() or 1, cluster)
    try:
        rows = _rows(asked, plants, where, resume)
    except (ClusterError, WorkersDifferError) as error:
        raise click.UsageError(str(error)) from None
    told = {"seed": seed, "population": population, **report(rows, [n for n, _ in asked.schemes])}
    if page:
        _write(page, told, asked)
    if as_json:
        echo_json(told)
    else:
        click.echo(f"{plants} plants of {asked.population.title}, {told['dialled']} times dialled")
        click.echo("Shares in per cent with 95 % intervals; done is at last, first at once.")
        click.echo("\n".join(table(told)))


def _trial(files: tuple[str, ...], commands: int, seed: int, population: str, unit: str) -> "Trial":
    from farend_sim.errors import BadFileError
    from farend_sim.files import find_scheme, find_unit
    from farend_sim.scheme_lab.population import find_population
    from farend_sim.scheme_lab.trial.trial import Trial

    if len({Path(file).stem for file in files}) < len(files):
        raise BadFileError("FILE: found two of one name, expected names that differ")
    return Trial(
        schemes=tuple((Path(file).stem, find_scheme(file)) for file in files),
        unit=find_unit(unit),
        population=find_population(population),
        jobs=commands,
        seed=seed,
    )


def _rows(asked: "Trial", plants: int, where: Any, journal: Path | None) -> list[dict[str, Any]]:
    from functools import partial
    from hashlib import sha256

    from farend_sim.scheme_lab.trial.trial import plant_row

    subject = sha256(repr(asked).encode()).hexdigest()[:16]
    work = partial(plant_row, asked)
    return run_many(work, range(plants), where, label="plants", journal=journal, subject=subject)


def _write(path: Path, told: dict[str, Any], asked: "Trial") -> None:
    from farend_sim.scheme_lab.trial.trial_page import page

    names = ", ".join(name for name, _ in asked.schemes)
    settings = f"{told['plants']} plants of {asked.population.title}, {asked.jobs} commands each, "
    write_out(path, page(f"Trial of {names}", f"{settings}seed {asked.seed}.", told))
