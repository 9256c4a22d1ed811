"""`farend-sim drill seal`: an author's drill as the file that a trainee is given."""

from pathlib import Path

import click

from tui.commands.answers import write_out


@click.command(short_help="Seal an author's drill for a trainee.")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--into",
    type=click.Path(file_okay=False, path_type=Path),
    help="The folder to write to; left out: standard output, for one FILE.",
)
def seal(files: tuple[Path, ...], into: Path | None) -> None:
    """Seal FILE, so that who opens it does not read what is wrong.

    FILE is a scenario with a table [drill]; the steps beside it are sealed in as the expert's. A
    seal keeps the answer from eyes, not from a determined person.
    """
    from farend_sim.drill.files import find_drill, sealed_text

    if into is None and len(files) > 1:
        raise click.UsageError("found more than one FILE; expected --into FOLDER")
    sealed = {file.name: sealed_text(find_drill(file)) for file in files}
    if into is None:
        click.echo("".join(sealed.values()), nl=False)
        return
    for name, text in sealed.items():
        write_out(into / name, text)
        click.echo(into / name, err=True)
