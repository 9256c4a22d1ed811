"""The worksheet on the screen and in a drill: what the logbook fills in, what comes of it."""

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from farend_sim.drill.files import find_drill
from farend_sim.files import find_meter, load_situation
from tests.tui.at_bench import dial, sit_down
from tui.commands import main
from tui.pace import Pace
from tui.person.logbook_file import LogbookFile
from tui.person.sitting import Sitting
from tui.views.frame import trainee
from tui.worksheet import filled, reckoned

HOOKUPS = {
    "ac-volts": "tip-ring",
    "volts": "tip-sheath",
    "ohms": "tip+ring-sheath",
    "bridge": "bad=tip good=ring",
    "insulation": "tip-sheath",
    "swing": "tip-ring",
    "level": "tip-ring",
}


def balanced(folder: Path) -> Sitting:
    """A leg balanced by a bridge over a strap, and written down."""
    sitting = sit_down(folder, "bridge-over-strap")
    dial(sitting, "#*27")
    dial(sitting, "18*")
    sitting.clip("bridge", "bad=ring good=tip")
    sitting.read()
    sitting.advance(45_000_000)
    sitting.write()
    return sitting


def test_a_balance_fills_the_bridges_fraction(tmp_path: Path) -> None:
    """The slide as the display showed it, and `locate` makes a place of it."""
    sitting = balanced(tmp_path)
    line = filled("bridge", sitting.entries)
    said = reckoned(sitting.situation.scenario, ["bridge", *line.split()], feet=False)

    shown = trainee(sitting, Pace(lambda: 0.0)).meter.loop
    assert line == f"--fraction {shown.split()[1].rstrip(';')}"
    assert "from the near end" in said


def test_all_readings_of_a_logbook(tmp_path: Path) -> None:
    """A logbook is weighed, whatever words its displays said; what nobody knows is passed over."""
    situation = load_situation("foreign-battery")
    meters = {meter: find_meter(meter) for meter in HOOKUPS}
    logbook = LogbookFile(tmp_path / "logbook.jsonl")
    sitting = Sitting(replace(situation, meters=meters), logbook)
    for meter, across in HOOKUPS.items():
        sitting.clip(meter, across)
        sitting.read()
        sitting.advance(45_000_000)
        sitting.write()
    words = ["--readings", str(sitting.logbook.path)]
    in_drill = reckoned(sitting.situation.scenario, words, feet=False)
    typed = CliRunner().invoke(main, ["locate", *words, "foreign-battery"], catch_exceptions=False)

    assert [entry["meter"] for entry in sitting.entries] == list(HOOKUPS)
    assert "foreign voltage" in [entry["shown"] for entry in sitting.entries]
    assert "5 readings passed over" in typed.stderr
    assert typed.stdout.strip() in in_drill
    assert in_drill == reckoned(sitting.situation.scenario, words, feet=True)
    assert "battery" in typed.stdout


def test_a_record_tells_of_no_other_pair() -> None:
    """With a block too the worksheet reckons, and says nothing of who is on which post."""
    drill = find_drill("corn-hall-8").situation.scenario
    said = reckoned(drill, ["loop", "--ohm", "100"], feet=False)

    assert drill.plant.neighbour
    assert "from the near end" in said
    assert "post" not in said


@pytest.mark.parametrize("words", [["--readings"], ["bridge", "--fraction"], ["--readings", "no"]])
def test_what_is_missing_is_told(words: list[str]) -> None:
    """A mistake is told in a line, and no file that a person has not named is."""
    scenario = load_situation("bridge-over-strap").scenario

    assert "record.toml" not in reckoned(scenario, words, feet=False)
