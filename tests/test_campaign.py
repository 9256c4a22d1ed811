"""Campaigns: the same rows wherever they run, once and for all, on workers with the same code."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from farend_sim.campaign import (
    ClusterError,
    Where,
    run,
)
from farend_sim.errors import BadFileError


def drawn(number: int) -> dict[str, Any]:
    """A task: numbers that depend on its own number alone."""
    return {"n": number, "x": np.random.default_rng([7, number]).normal(size=3).tolist()}


def process(number: int) -> dict[str, Any]:
    """A task that tells where it ran."""
    return {"pid": os.getpid(), "n": number}


def failing(number: int) -> dict[str, Any]:
    """A task that breaks off half way."""
    if number == 3:
        raise ZeroDivisionError("three")
    return drawn(number)


def test_one_core_and_several_give_the_same_rows() -> None:
    """In the order of the tasks, to the last bit."""
    rows = run(drawn, range(24))

    assert [row["n"] for row in rows] == list(range(24))
    assert run(drawn, range(24), Where(jobs=2)) == rows


def test_several_cores_are_other_processes() -> None:
    """The claim above is not about one process twice."""
    pids = {row["pid"] for row in run(process, range(8), Where(jobs=2))}

    assert os.getpid() not in pids


def test_no_cluster_is_told_plainly() -> None:
    """Where nothing listens, it is said in words."""
    pytest.importorskip("distributed")
    with pytest.raises(ClusterError, match="no cluster answers"):
        run(drawn, range(2), Where(cluster="tcp://127.0.0.1:9"))


def test_what_a_journal_holds_is_not_run_again(tmp_path: Path) -> None:
    """A campaign that broke off goes on where it was; a torn last line is not a row."""
    journal, asked = tmp_path / "rows.jsonl", []

    def counting(number: int) -> dict[str, Any]:
        asked.append(number)
        return drawn(number)

    with pytest.raises(ZeroDivisionError):
        run(failing, range(6), journal=journal, subject="s")
    with journal.open("a") as file:
        file.write('{"task": 3, "row": {"n"')

    rows = run(counting, range(6), journal=journal, subject="s")

    assert asked == [3, 4, 5]
    assert rows == run(drawn, range(6))
    assert run(failing, range(6), journal=journal, subject="s") == rows
    assert len(journal.read_text().splitlines()) == 7


@pytest.mark.parametrize(
    "content", ["{}\n", "no JSON\n", '{"campaign": "other", "tasks": 6, "code": "x"}\n', "\xff\n"]
)
def test_another_journal_is_refused_and_left_alone(tmp_path: Path, content: str) -> None:
    """Rows of another subject, number of tasks or code are not mixed in."""
    journal = tmp_path / "rows.jsonl"
    journal.write_text(content, encoding="latin-1")

    with pytest.raises(BadFileError, match="expected"):
        run(drawn, range(6), journal=journal, subject="s")
    assert journal.read_text(encoding="latin-1") == content


def test_progress_counts_up() -> None:
    """From none to all, once each."""
    told: list[tuple[int, int]] = []

    run(drawn, range(3), progress=lambda done, of: told.append((done, of)))

    assert told == [(0, 3), (1, 3), (2, 3), (3, 3)]


def test_one_core_imports_no_library_for_many() -> None:
    """jobs=1 costs no import of joblib."""
    code = (
        "import sys, json; from farend_sim.campaign import run\n"
        "print(json.dumps([run(lambda n: {'n': n}, [1, 2]), 'joblib' in sys.modules]))"
    )
    said = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    ).stdout

    assert json.loads(said) == [[{"n": 1}, {"n": 2}], False]
