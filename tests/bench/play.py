"""Ways to play a shipped or written scenario in a test."""

import json
from pathlib import Path
from typing import Any

from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.transcript import play
from farend_sim.files import load_situation
from tui.commands.answers import plain

SCENARIOS = Path(__file__).parents[2] / "scenarios"

Row = dict[str, Any]


def rows(scenario: str, steps: str | None = None, show_unit: bool = True) -> list[Row]:
    """Play steps on a shipped scenario, its own steps where none are given."""
    path = SCENARIOS / f"{scenario}.toml"
    situation = load_situation(path)
    text = path.with_suffix(".steps").read_text("utf-8") if steps is None else steps
    return list(play(situation, parse(text, "steps"), show_unit))


def lines(played: list[Row]) -> str:
    """The rows as the command prints them."""
    return "".join(json.dumps(plain(row)) + "\n" for row in played)


def readings(played: list[Row]) -> list[Row]:
    """Only the rows of readings."""
    return [row for row in played if "shown" in row]


def heard(played: list[Row]) -> list[str]:
    """What was heard, kind and pattern, in order."""
    return [f"{one['what']}: {one['pattern']}" for row in played for one in row["heard"] or ()]
