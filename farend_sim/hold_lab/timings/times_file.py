"""A stopwatch file: how long readings took, and which of them the hold cut off.

Columns `seconds,finished` and, if wanted, `job`. All faults of a file are told at once, with lines.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from farend_sim.errors import Problem
from farend_sim.hold_lab.timings.durations import Array
from farend_sim.loading.columns import lines_of
from farend_sim.loading.document import read_text
from farend_sim.loading.messages import bad_file

COLUMNS = "the columns seconds,finished and optionally job"
Placed = tuple[int | None, Problem]


@dataclass(frozen=True, slots=True)
class Tries:
    """What was timed, one entry a try."""

    seconds: Array
    finished: tuple[bool, ...]
    """False where the hold ran out first: the reading takes longer than the time says."""
    job: tuple[str, ...] | None = None

    @property
    def is_finished(self) -> NDArray[np.bool_]:
        return np.array(self.finished, dtype=np.bool_)

    @property
    def member(self) -> NDArray[np.int64]:
        """The number of its job, for each try; without jobs each try is its own."""
        if self.job is None:
            return np.arange(self.n)
        return np.unique(self.job, return_inverse=True)[1]

    @property
    def jobs(self) -> int:
        """How many jobs there are."""
        return self.n if self.job is None else len(set(self.job))

    @property
    def n(self) -> int:
        return len(self.finished)

    @property
    def censored(self) -> int:
        return self.finished.count(False)


def load_times(path: str | Path) -> Tries:
    """Read a stopwatch file.

    Raises:
        BadFileError: it has faults; names all of them with their lines.
    """
    return parse_times(read_text(Path(path), str(path)), str(path))


def parse_times(text: str, filename: str) -> Tries:
    """The same of a text.

    Raises:
        BadFileError: likewise.
    """
    lines = lines_of(text)
    if not lines:
        raise bad_file(filename, [(1, Problem("", "nothing", COLUMNS))])
    (head_line, names), *rows = lines
    if problem := _wrong_columns(names):
        raise bad_file(filename, [(head_line, problem)])
    faults = [fault for row in rows for fault in _faults(names, *row)]
    if faults:
        raise bad_file(filename, faults)
    tries = _tries(names, [row for _, row in rows])
    if problem := _nothing_to_fit(tries):
        raise bad_file(filename, [(head_line, problem)])
    return tries


def _wrong_columns(names: list[str]) -> Problem | None:
    if sorted(names) in (["finished", "seconds"], ["finished", "job", "seconds"]):
        return None
    return Problem("", ",".join(names)[:60], COLUMNS)


def _faults(names: list[str], line: int, row: list[str]) -> Iterator[Placed]:
    if len(row) != len(names):
        yield line, Problem("", f"{len(row)} values", f"{len(names)}: {','.join(names)}")
        return
    cells = dict(zip(names, row, strict=True))
    if (found := _wrong_seconds(cells["seconds"])) is not None:
        yield line, Problem("seconds", found, "seconds above 0, such as 42.5")
    if cells["finished"] not in ("0", "1"):
        found = repr(cells["finished"]) if cells["finished"] else "nothing"
        yield line, Problem("finished", found, "1, or 0 where the hold ran out first")
    if cells.get("job") == "":
        yield line, Problem("job", "nothing", "a name or number for the job")


def _wrong_seconds(cell: str) -> str | None:
    """What stands there instead of a duration."""
    if not cell:
        return "nothing"
    try:
        seconds = float(cell)
    except ValueError:
        return f"{cell[:40]!r}, no number"
    if not math.isfinite(seconds):
        return f"{cell}, no finite number"
    if seconds <= 0:
        return f"{cell}, {'a negative time' if seconds < 0 else 'no time at all'}"
    return f"{cell}, longer than a day" if seconds > 86400 else None


def _tries(names: list[str], rows: list[list[str]]) -> Tries:
    cells = [dict(zip(names, row, strict=True)) for row in rows]
    return Tries(
        np.array([float(each["seconds"]) for each in cells], dtype=np.float64),
        tuple(each["finished"] == "1" for each in cells),
        tuple(each["job"] for each in cells) if "job" in names else None,
    )


def _nothing_to_fit(tries: Tries) -> Problem | None:
    """A spread needs two readings that finished, at different times."""
    if tries.n == 0:
        return Problem("", "no try", "a line for each try")
    if tries.censored == tries.n:
        return Problem("finished", f"no finished reading among {tries.n}", "two or more")
    done = set(tries.seconds[tries.is_finished].tolist())
    if len(done) == 1:
        return Problem("seconds", "finished readings all of one time", "two or more that differ")
    return None
