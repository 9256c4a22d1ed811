"""A job as a person writes it down: readings in their order, each in a function of the unit."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Gt, Le, MinLen

from farend_sim.errors import Problem
from farend_sim.files import find
from farend_sim.hold_lab.on_pair.meter_in_use import Used, used_problems
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class JobReading(Used):
    count: Annotated[int, Gt(0), Le(20)] = 1
    """So many one after another."""
    resumes: bool = False
    """Whether what was done in one hold counts in the next, as in a search by tone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    format: Literal[1]
    title: Annotated[str, MinLen(1)]
    scenario: Annotated[str, MinLen(1)] = "good-pair"
    scheme: str = ""
    command_s: Above0 | None = None
    patience: Annotated[int, Gt(0)] = 20
    reading: Annotated[tuple[JobReading, ...], MinLen(1)]


def load_job(name: str) -> Job:
    """Read a job: a file, or a shipped one by its name.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    return find(Job, "jobs", name, lambda job: tuple(_problems(job)))


def _problems(job: Job) -> Iterator[Problem]:
    for at, reading in enumerate(job.reading):
        yield from used_problems(reading, f"reading[{at}]")
