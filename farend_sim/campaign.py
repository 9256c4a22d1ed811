"""Many tasks, each a function of its own number: on one core, on several, or on a cluster.

Law 1: a task's result depends on the task alone, so that one core, several and a cluster give the
same rows. Rows are plain data, and are returned in the order of the tasks, whoever finishes first.
Law 2: nothing runs on workers whose code is not this code.
Law 3: a journal holds the rows of one campaign only; what it holds is not run again.
Tasks should take 20 ms or more each: handing one out costs a fraction of a millisecond.
"""

import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from farend_sim.errors import BadFileError, FarendError
from farend_sim.loading.messages import why

T = TypeVar("T")
Row = dict[str, Any]
Work = Callable[[T], Row]
CONNECT_S = "5s"
"""How long a cluster may take to answer."""


class WorkersDifferError(FarendError):
    """Workers run other code than this."""


class ClusterError(FarendError):
    """There is no cluster at the address, or nothing to speak to one with."""


@dataclass(frozen=True, slots=True)
class Where:
    """Where tasks run: so many processes of this machine, or a cluster's scheduler."""

    jobs: int = 1
    cluster: str | None = None
    """Address of a dask scheduler, such as `tcp://127.0.0.1:8786`."""


@lru_cache(maxsize=1)
def code_mark() -> str:
    """Return a mark of the code that runs here; equal marks give equal rows."""
    import numpy

    root = Path(__file__).resolve().parent
    digest = hashlib.sha256(numpy.__version__.encode())
    for package in (root, root.parent / "line_model"):
        for file in sorted(package.rglob("*")):
            if file.suffix in (".py", ".toml") and file.is_file():
                digest.update(f"{file.relative_to(package)}\0".encode() + file.read_bytes())
    return digest.hexdigest()[:16]


def run(
    work: Work[T],
    tasks: Iterable[T],
    where: Where | None = None,
    *,
    journal: Path | None = None,
    subject: str = "",
    progress: Callable[[int, int], None] = lambda done, of: None,
) -> list[Row]:
    """Run every task and return their rows in order.

    Args:
        work: gives a task's row; importable by workers, or a partial of such a function.
        tasks: what it is called with.
        where: this machine's one core, if left out.
        journal: a JSON Lines file; rows in it are taken, rows that are missing are added.
        subject: what the campaign is about; a journal of another subject or code is refused.
        progress: told how many are done, of how many.

    Raises:
        WorkersDifferError, ClusterError: the cluster cannot be used.
        BadFileError: the journal is another campaign's, or cannot be written.
    """
    listed = list(tasks)
    kept = _Journal(journal, subject, len(listed)) if journal else None
    rows = dict(kept.rows) if kept else {}
    missing = [(number, task) for number, task in enumerate(listed) if number not in rows]
    progress(len(rows), len(listed))
    for number, row in _results(work, missing, where or Where()):
        rows[number] = row
        if kept:
            kept.add(number, row)
        progress(len(rows), len(listed))
    return [rows[number] for number in range(len(listed))]


def _results(
    work: Work[T], missing: list[tuple[int, T]], where: Where
) -> Iterator[tuple[int, Row]]:
    if not missing:
        return
    if where.cluster is not None:
        yield from _on_cluster(work, missing, where.cluster)
    elif where.jobs <= 1 or len(missing) == 1:
        for number, task in missing:
            yield _numbered(work, number, task)
    else:
        yield from _here(work, missing, where.jobs)


def _numbered(work: Work[T], number: int, task: T) -> tuple[int, Row]:
    # through JSON, so that a row is the same whether or not it came out of a journal
    return number, json.loads(json.dumps(work(task), allow_nan=False))


def _here(work: Work[T], missing: list[tuple[int, T]], jobs: int) -> Iterator[tuple[int, Row]]:
    from joblib import parallel_config

    # small matrices: more threads in a worker only wait for each other
    with parallel_config(backend="loky", n_jobs=jobs, inner_max_num_threads=1):
        yield from _joblib(work, missing)


def _on_cluster(
    work: Work[T], missing: list[tuple[int, T]], address: str
) -> Iterator[tuple[int, Row]]:
    try:
        import distributed
        from distributed.comm.addressing import get_address_host_port
    except ImportError:
        raise ClusterError("no dask here: pip install 'farend-sim[cluster]'") from None
    from joblib import parallel_config

    connect: Any = distributed.Client
    try:
        get_address_host_port(address)  # a client that cannot read it takes ten seconds to go
        client = connect(address, timeout=CONNECT_S, set_as_default=False)
    except (OSError, ValueError) as error:
        raise ClusterError(f"no cluster answers at {address}: {error}") from None
    with client:
        check_workers(client, code_mark())
        with client.as_current(), parallel_config(backend="dask", n_jobs=-1, client=client):
            yield from _joblib(work, missing)


def check_workers(client: Any, mark: str) -> None:
    """Refuse a cluster without workers, or with workers whose code has another mark."""
    marks: dict[str, str] = client.run(code_mark)
    if not marks:
        raise ClusterError("the cluster has no workers")
    if other := sorted(worker for worker, its_mark in marks.items() if its_mark != mark):
        raise WorkersDifferError(f"other code than here on {', '.join(other)}; install the same")


def _joblib(work: Work[T], missing: list[tuple[int, T]]) -> Iterator[tuple[int, Row]]:
    from joblib import Parallel, delayed

    results = Parallel(return_as="generator_unordered")(
        delayed(_numbered)(work, number, task) for number, task in missing
    )
    try:
        yield from results
    finally:
        # a generator that is dropped half way spoils the next campaign of this process
        results.close()


class _Journal:
    """Rows on disk: a first line that says whose they are, then a line a task."""

    def __init__(self, path: Path, subject: str, count: int) -> None:
        self._path = path
        self._head = {"campaign": subject, "tasks": count, "code": code_mark()}
        self.rows: dict[int, Row] = {}
        try:
            text = path.read_text(encoding="utf-8") if path.exists() else ""
            # a line that was being written when the power went is no row
            lines = text.splitlines(keepends=True)
            whole = [line for line in lines if line.endswith("\n")]
            if whole:
                self._read(whole)
            if not whole or len(whole) < len(lines):
                path.write_text("".join(whole) or self._line(self._head), encoding="utf-8")
        except OSError as error:
            raise BadFileError(f"{path}: found {why(error)}, expected a journal") from None
        except UnicodeDecodeError:
            raise BadFileError(
                f"{path}: found bytes that are no text, expected a journal"
            ) from None

    def _read(self, lines: list[str]) -> None:
        for at, line in enumerate(lines):
            try:
                said = json.loads(line)
                if at == 0 and said != self._head:
                    raise ValueError
                if at == 0:
                    continue
                number, row = said["task"], said["row"]
            except (ValueError, KeyError, TypeError):
                expected = "the rows of this very campaign and code, or no file"
                found = "another campaign's journal" if at == 0 else "no row"
                text = f"{self._path}:{at + 1}: found {found}, expected {expected}"
                raise BadFileError(text) from None
            self.rows[number] = row

    @staticmethod
    def _line(said: Row) -> str:
        return json.dumps(said, allow_nan=False) + "\n"

    def add(self, number: int, row: Row) -> None:
        """Append one row in one write."""
        file = os.open(self._path, os.O_APPEND | os.O_WRONLY)
        try:
            os.write(file, self._line({"task": number, "row": row}).encode())
        finally:
            os.close(file)
