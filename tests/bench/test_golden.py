"""Each shipped scenario, played with the steps beside it, gives its reviewed transcript.

To write them anew: `GOLDEN=write pytest tests/bench/test_golden.py`, then read the difference.
"""

import json
import os
from pathlib import Path
from typing import Any

import pytest

from tests.bench.play import SCENARIOS, lines, rows, shipped

GOLDEN = Path(__file__).parents[1] / "golden"
SHIPPED = sorted(path.stem for path in SCENARIOS.glob("*.toml"))


def close(left: Any, right: Any) -> bool:
    """Equal but for the last digits of floats, which another processor may round otherwise."""
    if isinstance(left, dict) and isinstance(right, dict):
        return left.keys() == right.keys() and all(close(left[k], right[k]) for k in left)
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(map(close, left, right))
    if isinstance(left, float) or isinstance(right, float):
        return left == pytest.approx(right, rel=1e-6, abs=1e-9)
    return bool(left == right)


@pytest.mark.parametrize("name", SHIPPED)
def test_transcript_is_the_reviewed_one(name: str) -> None:
    """It is the one that was read and found right; played again, the same to the byte."""
    played = lines(shipped(name))
    file = GOLDEN / f"{name}.jsonl"
    if os.environ.get("GOLDEN") == "write":
        file.write_text(played, "utf-8")
    reviewed = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    for expected, actual in zip(reviewed, map(json.loads, played.splitlines()), strict=True):
        assert close(expected, actual), actual
    assert played == lines(rows(name))


@pytest.mark.parametrize("name", SHIPPED)
def test_scenario_has_a_note(name: str) -> None:
    """Each scenario says beside it what it shows, under its own title."""
    note = (SCENARIOS / f"{name}.md").read_text("utf-8")
    title = next(
        line
        for line in (SCENARIOS / f"{name}.toml").read_text("utf-8").splitlines()
        if line.startswith("title")
    )
    assert note.splitlines()[0].removeprefix("# ") == title.split('"')[1]
