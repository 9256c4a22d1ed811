"""Many tasks with a bar that tells how far they are: what `campaign` runs, for a terminal."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from farend_sim.campaign import Row, Where, Work

T = TypeVar("T")


def run_many(
    work: "Work[T]", tasks: Sequence[T], where: "Where", *,
    label: str, journal: Path | None, subject: str,
) -> list["Row"]:  # fmt: skip
    """Run every task and return their rows in order."""
    from farend_sim.campaign import run

    bar: Any
    with click.progressbar(length=len(tasks), label=label, file=sys.stderr) as bar:
        return run(
            work, tasks, where, journal=journal, subject=subject,
            progress=lambda done, _: bar.update(done - bar.pos),
        )  # fmt: skip
