"""A sitting along the route: the same acts as a transcript's, done by hand."""

from pathlib import Path

import pytest

from farend_sim.drill.expert.readings_file import read_looks
from farend_sim.errors import BadFileError
from tests.bench.written import situation
from tui.pace import Pace
from tui.person.logbook_file import LogbookFile
from tui.person.sitting import Sitting
from tui.views.frame import trainee

BODY = """
[[plant.section]]
gauge_awg = 24
length_m = 2000.0
[[plant.access]]
name = "Mill Lane"
at_m = 800.0
[[trouble]]
kind = "leak"
between = ["tip", "ring"]
at_m = 1200.0
ohm = 0.3
"""


@pytest.fixture
def sitting(tmp_path: Path) -> Sitting:
    """A person at the near end of a shorted pair."""
    return Sitting(situation(tmp_path, BODY), LogbookFile(tmp_path / "log.jsonl"))


def read(sitting: Sitting) -> str:
    """What the ohmmeter shows between the legs."""
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    sitting.advance(8_000_000)
    reading = sitting.bench.snapshot().reading
    assert reading is not None
    return reading.shown


def test_a_joint_is_looked_at_both_ways(sitting: Sitting) -> None:
    """Where the leads are is in the snapshot, and the loop is counted from there."""
    sitting.do("go Mill Lane")
    sitting.do("open-joint")
    assert sitting.said == (
        "Both legs are open. Caution: bond across the sheath before opening it."
    )
    near = read(sitting)
    sitting.do("look far")
    far = read(sitting)

    snapshot = sitting.bench.snapshot()
    assert (snapshot.where, snapshot.looking) == ("Mill Lane", "far")
    assert near == "over"
    assert sitting.rows[-1]["loop_m"] == pytest.approx(400, abs=5)
    assert float(far) < 70


def test_the_logbook_says_where_it_was_read(sitting: Sitting) -> None:
    """An entry has the place and the way that the leads looked; no expert takes it for the near."""
    for step in ("go Mill Lane", "bond", "open-joint", "look far"):
        sitting.do(step)
    read(sitting)
    sitting.write()
    (entry,) = trainee(sitting, Pace(lambda: 0.0)).entries

    assert entry.text.startswith("ohms tip-ring, at Mill Lane toward far: ")
    with pytest.raises(BadFileError, match="found no reading"):
        read_looks(sitting.logbook.path, sitting.bench.situation.meters)


def test_the_way_passes_at_once(sitting: Sitting) -> None:
    """Going takes its time of the bench's own, with the meter off and nothing heard on the way."""
    sitting.do("unit wake")
    sitting.clip("ohms", "tip-ring")
    sitting.do("go Mill Lane")

    assert (sitting.rows[-1]["start_s"], sitting.rows[-1]["t_s"]) == (0.0, 160.0)
    assert sitting.bench.snapshot().meter is None
    assert sitting.heard.sounds == ()


def test_a_reading_that_is_left_is_none(sitting: Sitting) -> None:
    """Who goes away while the meter is at it takes it off, and no reading comes of it."""
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    sitting.do("go Mill Lane")
    sitting.advance(8_000_000)

    assert [row for row in sitting.rows if "shown" in row] == []


def test_a_repair_tells_what_was_found(sitting: Sitting) -> None:
    """A miss and a hit are told in words."""
    sitting.do("repair Mill Lane +300")
    assert sitting.said == "Nothing found amiss; closed again."
    sitting.do("repair Mill Lane +400")
    assert sitting.said == "Conductors touching found, made good."
    assert read(sitting) == "over"


def test_what_cannot_be_done_is_said(sitting: Sitting) -> None:
    """What is refused is said as a sentence, and keys that still sound keep one there."""
    sitting.do("join tip ring")
    assert sitting.said == "No joint that can be opened is here."
    sitting.press("1")
    sitting.do("go far")
    assert sitting.said == "Keys are still sounding."
    sitting.advance(2_000_000)
    assert sitting.do("go far")
    sitting.lift()
    assert sitting.said == "What is behind the near end is there, and you are not."


def test_the_helper_takes_the_unit_off_and_puts_it_back(sitting: Sitting) -> None:
    """Off the pair nothing of the unit is there; any clipping puts it on again."""
    sitting.do("unit unclip")
    assert sitting.said == "The helper says: the unit is off the pair."
    assert not sitting.bench.pair.unit.clipped
    sitting.do("unit clip")
    assert sitting.bench.pair.unit.clipped
    assert sitting.helper.clipped
