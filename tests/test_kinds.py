"""Every table with a row a kind has a row for every kind there is."""

import re
from dataclasses import fields
from pathlib import Path
from typing import get_args

from farend_sim.bench.steps.grammar import VERBS
from farend_sim.bench.steps.reading_words import UNITS
from farend_sim.drill.drill import Lesson
from line_model.meters.profile import MeterProfile
from line_model.troubles import KINDS

GUIDE = Path(__file__).parent.parent / "scenarios" / "guide"
METERS = set(get_args(MeterProfile))


def test_every_trouble_is_told_of() -> None:
    """The guide to writing a pair has a row for each."""
    text = (GUIDE / "writing.md").read_text("utf-8")
    assert [kind for kind in KINDS if f"| `{kind}` |" not in text] == []


def test_all_that_a_drill_may_say_is_told_of() -> None:
    """The guide to drills has each key of the table `[drill]`."""
    text = (GUIDE / "drills.md").read_text("utf-8")
    told = re.findall(r"^(?:\[drill\.)?(\w+)(?: =|\])", text, re.M)
    assert {each.name for each in fields(Lesson)} <= set(told)


def test_every_step_is_told_of() -> None:
    """The guide to steps has a row for each verb."""
    rows = re.findall(r"^\| (`.*?) \|", (GUIDE / "steps.md").read_text("utf-8"), re.M)
    told = re.findall(r"`([\w-]+)", " ".join(rows))
    assert set(VERBS) == set(told)


def test_every_meters_unit_has_a_word() -> None:
    """No meter's reading is shown without its unit."""
    assert {each.UNIT for each in METERS} <= set(UNITS)
