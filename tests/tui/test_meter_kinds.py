"""Every kind of meter on the face: hook-ups, what it shows in mid-cycle and behind, cautions."""

from pathlib import Path

import pytest

from farend_sim.bench.steps.reading_words import scaled, with_unit
from tests.tui.at_bench import dial, screen_of, sit_down, text_of
from tui.pace import Pace
from tui.person.sitting import Sitting
from tui.questions import hookups
from tui.views.frame import trainee
from tui.views.view_meter import MeterView


def face(sitting: Sitting) -> MeterView:
    return trainee(sitting, Pace(lambda: 0.0)).meter


@pytest.fixture
def strapped(tmp_path: Path) -> Sitting:
    sitting = sit_down(tmp_path, "bridge-over-strap")
    dial(sitting, "#*27")
    dial(sitting, "18*")
    sitting.clip("bridge", "bad=ring good=tip")
    sitting.zero()
    return sitting


def test_the_bridge_seeks_where_one_can_see_it(strapped: Sitting) -> None:
    """In mid-cycle the slide and the detector are shown, then ohms, loop and places."""
    strapped.read()
    strapped.advance(25_000_000)
    seeking = face(strapped)
    strapped.advance(20_000_000)
    found = face(strapped)

    assert seeking.words.startswith("slide 0.")
    assert "of 5: " in seeking.stage
    assert (found.big, found.unit) == ("213.0", "ohm")
    assert "loop 555.6 ohm" in found.loop
    assert "trouble: 2311 m" in found.loop


def test_its_reading_goes_into_the_logbook_with_all_its_figures(strapped: Sitting) -> None:
    """Written down as shown, with the places and the fraction beside it."""
    strapped.read()
    strapped.advance(45_000_000)
    strapped.write()
    (row,) = strapped.entries

    assert row["across"] == "bad=ring good=tip"
    assert {"fraction", "loop_ohm", "to_strap_ohm", "trouble_m", "to_strap_m"} <= row.keys()
    below = trainee(strapped, Pace(lambda: 0.0)).entries[0].below
    assert "trouble: 2311 m" in below


def test_words_stand_without_a_unit(tmp_path: Path) -> None:
    """No strap: the face says so, and no ohm beside it."""
    sitting = sit_down(tmp_path, "bridge-over-strap")
    sitting.clip("bridge", "bad=ring good=tip")
    sitting.read()
    sitting.advance(20_000_000)

    assert (face(sitting).big, face(sitting).words, face(sitting).unit) == ("", "no loop", "")


def test_the_needle_moves(tmp_path: Path) -> None:
    """The mark goes up the scale with the kick and comes down again."""
    sitting = sit_down(tmp_path, "kick")
    sitting.clip("swing", "ring-sheath")
    sitting.read()
    marks = []
    for _ in range(45):
        sitting.advance(200_000)
        words = face(sitting).words
        marks.append(words.find("|") if words.startswith("0 ") else -1)

    assert max(marks) > 5
    assert marks.index(max(marks)) not in (0, len(marks) - 1)
    assert face(sitting).big == "24.5"


@pytest.mark.parametrize("size", [(80, 24), (140, 45)])
async def test_the_caution_is_on_the_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    """Before the first reading the face of a dangerous meter says what it is."""
    sitting = sit_down(tmp_path, "unit-under-test")
    sitting.clip("insulation", "tip-ring")
    app = screen_of(sitting)
    async with app.run_test(size=size) as pilot:
        app.advance(0)
        await pilot.pause()
        assert "250 V" in text_of(app)


def test_each_meter_is_offered_its_own_hookups(strapped: Sitting) -> None:
    """A bridge bad and good leg, all others two terminals, the usual way first."""
    meters = strapped.situation.meters

    assert [way for way, _ in hookups(meters["bridge"])] == [
        "bad=tip good=ring",
        "bad=ring good=tip",
    ]
    assert hookups(meters["volts"])[0][0] == "tip-ring"


def test_many_ohms_are_told_in_megohm() -> None:
    """A display of ten digits is told as people say it; words and wandering stay as they are."""
    assert scaled("1340000000", "ohm") == ("1340", "megohm")
    assert scaled("85070", "ohm") == ("85070", "ohm")
    assert with_unit("no loop", "ohm") == "no loop"
    assert with_unit("150.4 .. over", "ohm") == "150.4 .. over ohm"
    assert with_unit("31.0", "dbrnc") == "31.0 dBrnC"
