"""Every table with a row a kind has a row for every kind there is."""

from pathlib import Path
from typing import get_args

from farend_sim.bench.repairing import SEEN
from farend_sim.drill.answer import CROSS, KINDS, NONE, UNIT
from line_model.meters.profile import MeterProfile
from line_model.troubles import Trouble
from tui.reading_words import UNITS

GUIDE = Path(__file__).parent.parent / "scenarios" / "guide" / "writing.md"
TROUBLES = {get_args(each.__annotations__["kind"])[0] for each in get_args(Trouble)}
METERS = set(get_args(MeterProfile))


def test_every_trouble_can_be_answered() -> None:
    """A drill's words are the scenario's own, and three more."""
    assert set(KINDS) - {NONE, UNIT, CROSS} == TROUBLES


def test_every_trouble_at_a_place_is_known_by_sight() -> None:
    """Whoever opens its place is told what is there; only induction has none."""
    assert set(SEEN) == TROUBLES - {"induction"}


def test_every_trouble_is_told_of() -> None:
    """The guide to writing a pair has a row for each."""
    text = GUIDE.read_text("utf-8")
    assert {kind for kind in TROUBLES if f"| `{kind}` |" in text} == TROUBLES


def test_every_meters_unit_has_a_word() -> None:
    """No meter's reading is shown without its unit."""
    assert {each.UNIT for each in METERS} <= set(UNITS)
