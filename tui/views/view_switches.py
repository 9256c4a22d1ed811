"""What the trainer puts in and takes out: faults of the unit, troubles of the line."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.unit_faults import ABOUT, FAULTS
from tui.person.sitting import Sitting
from tui.views.view_line import trouble_words


@dataclass(frozen=True, slots=True)
class Switch:
    name: str
    """What `switch` takes."""
    words: str
    about: str
    on: bool


def switches(sitting: Sitting) -> Iterator[Switch]:
    """All of them, faults of the unit first."""
    faults = sitting.bench.unit.faults
    for fault in FAULTS:
        yield Switch(fault, f"unit: {fault}", ABOUT[fault], fault in faults)
    scenario, out = sitting.situation.scenario, away(sitting)
    for number, trouble in enumerate(scenario.trouble):
        there = number not in out
        words = f"line: {trouble_words(trouble, scenario.plant, sitting.feet)}"
        yield Switch(f"trouble {number}", words, "a trouble of the line", there)


def away(sitting: Sitting) -> frozenset[int]:
    """Which of the scenario's troubles are not on the line, by their place in the file."""
    now = sitting.bench.pair.troubles
    written = enumerate(sitting.situation.scenario.trouble)
    return frozenset(number for number, trouble in written if trouble not in now)


def switch(sitting: Sitting, name: str) -> None:
    """Put in what is out, or take it out: a fault by its name, a trouble as `trouble 1`."""
    bench = sitting.bench
    if name in FAULTS:
        sitting.do(f"fault {name} {'off' if name in bench.unit.faults else 'on'}")
    else:  # nobody at the bench does that: it is no step
        out = away(sitting) ^ {int(name.split()[1])}
        written = enumerate(sitting.situation.scenario.trouble)
        bench.mend(tuple(each for number, each in written if number not in out))
