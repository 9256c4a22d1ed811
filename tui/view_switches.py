"""What the trainer can put in and take out: faults of the unit, troubles of the line."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.bench.faults import ABOUT, FAULTS
from tui.sitting import Sitting
from tui.view_line import told


@dataclass(frozen=True, slots=True)
class Switch:
    name: str
    """What a sitting's `switch` takes."""
    words: str
    about: str
    on: bool


def switches(sitting: Sitting, feet: bool) -> Iterator[Switch]:
    """All of them, faults of the unit first."""
    faults = sitting.bench.unit.faults
    for fault in FAULTS:
        yield Switch(fault, f"unit: {fault}", ABOUT[fault], fault in faults)
    scenario = sitting.situation.scenario
    for number, trouble in enumerate(scenario.trouble):
        there = number not in sitting.away
        words = f"line: {told(trouble, scenario.plant, feet)}"
        yield Switch(f"trouble {number}", words, "a trouble of the line", there)
