"""Scenarios that a test writes itself, played from a folder of its own."""

from pathlib import Path

from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.files import load_situation
from farend_sim.situation import Situation
from tests.bench.play import Row

HEAD = 'format = 1\nmeters = ["volts", "ac-volts", "ohms"]\n'
KILOMETRE = "[[plant.section]]\ngauge_awg = 24\nlength_m = 1000.0\n"


def situation(folder: Path, body: str, head: str = HEAD) -> Situation:
    """Write a scenario and load it as a person's own would be."""
    file = folder / "mine.toml"
    file.write_text(head + body, encoding="utf-8")
    return load_situation(file)


def played(folder: Path, body: str, steps: str, head: str = HEAD) -> list[Row]:
    """Play steps on a written scenario, the unit's own side shown."""
    written = situation(folder, body, head)
    return list(play(written, parse(steps, "steps", tuple(written.meters)), show_unit=True))
