"""The entry point: the command that holds the others, and the exit codes they share.

Law: nothing heavy is imported here or at the top of a command, so that help answers at once.
0: done and good. 1: done, with a negative verdict. 2: the input is bad.
"""

import errno
import os
from typing import Any

import click

from farend_sim.errors import BadFileError
from line_model.errors import LineError
from tui.commands.bench import bench
from tui.commands.cable import cable
from tui.commands.drill import drill
from tui.commands.hold import hold
from tui.commands.line import line
from tui.commands.locate import locate
from tui.commands.run import run
from tui.commands.scheme import scheme
from tui.commands.serve import serve
from tui.commands.wav import wav


class Commands(click.Group):
    """A group that tells bad input plainly, without a traceback."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except (BadFileError, LineError) as error:
            click.echo(str(error), err=True)
        except OSError as error:
            if error.errno == errno.EPIPE:  # who reads has had enough: click's own matter
                raise
            place = error.filename or "standard output"
            why = (error.strerror or "it closed").lower()
            click.echo(f"{place}: found {why}, expected to go on there", err=True)
        ctx.exit(2)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="farend-sim", message="%(prog)s %(version)s")
def main() -> None:
    """Simulate a far-end termination unit on a copper pair, and what the near end reads.

    No reading here proves a real pair safe; local codes and licensed practice come first.
    """
    # The matrices of a line are small: threads only wait for each other, seconds on a busy machine.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


for _command in (run, line, cable, locate, bench, wav, scheme, hold, drill, serve):
    main.add_command(_command)

if __name__ == "__main__":
    main()
