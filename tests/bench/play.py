"""Ways to play a shipped or written scenario in a test."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.files import load_situation
from tui.commands.answers import plain

SCENARIOS = Path(__file__).parents[2] / "scenarios"
CODES = {
    "tone": "63",
    "strap": "18",
    "tip-ground": "29",
    "ring-ground": "30",
    "both-ground": "41",
    "open": "52",
    "off-pair": "07",
}
"""The shipped scheme's functions, and how each is keyed."""

Row = dict[str, Any]


def dial(bench: Bench, keys: str) -> None:
    """Send keys and let the unit's answer pass."""
    bench.press(keys)
    assert bench.keypad.ends_us is not None
    bench.advance_to(bench.keypad.ends_us + 2_000_000)


def rows(scenario: str, steps: str | None = None, show_unit: bool = True) -> list[Row]:
    """Play steps on a shipped scenario, its own steps where none are given."""
    path = SCENARIOS / f"{scenario}.toml"
    situation = load_situation(path)
    if steps is None:
        steps = path.with_suffix(".steps").read_text("utf-8")
    return list(play(situation, parse(steps, "steps", tuple(situation.meters)), show_unit))


@cache
def shipped(scenario: str) -> list[Row]:
    """A shipped scenario's own steps, played once for all tests that look at them."""
    return rows(scenario)


def lines(played: list[Row]) -> str:
    """The rows as the command prints them."""
    return "".join(json.dumps(plain(row)) + "\n" for row in played)


def readings(played: list[Row]) -> list[Row]:
    """Only the rows of readings."""
    return [row for row in played if "shown" in row]


def heard(played: list[Row]) -> list[str]:
    """What was heard, kind and pattern, in order."""
    return [f"{one['what']}: {one['pattern']}" for row in played for one in row["heard"] or ()]
