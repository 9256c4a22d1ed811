"""`farend-sim serve`: the full screen in a browser, from this machine alone."""

import shlex
import string
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.bench import demand_book

if TYPE_CHECKING:
    from tui.serving.server import BenchServer

LOOPBACK = "127.0.0.1"
SHORTEST = 8
_PLAIN = frozenset(string.ascii_letters + string.digits + "-_")
EXTRA = "pip install 'farend-sim[web]'"


@click.command(short_help="Serve the full screen to browsers.")
@click.option("--host", default=LOOPBACK, show_default=True, help="The address to listen at.")
@click.option("--port", type=click.IntRange(1, 65535), default=8040, show_default=True)
@click.option(
    "--most", type=click.IntRange(1, 200), default=8, show_default=True, help="Persons at once."
)
@click.option(
    "--class",
    "class_file",
    metavar="FILE",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Enter drills into this class book; each person is asked for a name.",
)
@click.option("--token", help="The address's secret part. Left out: a new one each time.")
def serve(host: str, port: int, most: int, class_file: Path | None, token: str | None) -> None:
    """Serve home, with all its rooms, to browsers: a process a person.

    The address that is printed holds a secret token: who has it may work here. Nothing is fetched
    from elsewhere. Listen at other addresses than this machine's own only among people you trust:
    what is sent is not enciphered.
    """
    server = _server(host, port, most, class_file, token)
    click.echo(server.address)
    if host not in (LOOPBACK, "localhost", "::1"):
        click.echo("others may reach it, and nothing is enciphered", err=True)
    click.echo("Ctrl+C ends it", err=True)
    try:
        server.serve()
    except OSError as error:
        raise click.UsageError(f"cannot listen at {host}:{port}: {error.strerror}") from None


def _server(
    host: str, port: int, most: int, class_file: Path | None, token: str | None
) -> "BenchServer":
    import secrets

    from farend_sim.errors import BadFileError
    from tui.person.data_folder import data_folder

    try:
        from tui.serving.seats import Seats
        from tui.serving.server import BenchServer
    except ImportError:
        raise BadFileError(f"found no textual-serve, expected it installed: {EXTRA}") from None
    token = token or secrets.token_urlsafe(16)
    if not set(token) <= _PLAIN or len(token) < SHORTEST:
        raise click.UsageError(f"--token: expected {SHORTEST} or more of a-z, A-Z, 0-9, - and _")
    words = [sys.executable, "-m", "tui.commands.entry", "bench"]
    demand_book(class_file)
    if class_file is not None:
        words += ["--class", str(class_file.resolve())]
    seats = Seats(most, data_folder() / "seats")
    return BenchServer("exec " + shlex.join(words), host, port, token=token, seats=seats)
