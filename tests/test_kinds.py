"""Every table with a row a kind has a row for every kind there is."""

from pathlib import Path
from typing import get_args

from farend_sim.bench.steps.reading_words import UNITS
from line_model.meters.profile import MeterProfile
from line_model.troubles import KINDS

GUIDE = Path(__file__).parent.parent / "scenarios" / "guide" / "writing.md"
METERS = set(get_args(MeterProfile))


def test_every_trouble_is_told_of() -> None:
    """The guide to writing a pair has a row for each."""
    text = GUIDE.read_text("utf-8")
    assert [kind for kind in KINDS if f"| `{kind}` |" not in text] == []


def test_every_meters_unit_has_a_word() -> None:
    """No meter's reading is shown without its unit."""
    assert {each.UNIT for each in METERS} <= set(UNITS)
