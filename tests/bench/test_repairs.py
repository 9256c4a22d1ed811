"""Repairs: what a dig or an opened joint reaches, what it costs, and what it leaves."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.repairing import DIG_REACH_M, NOTHING
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.files import load_scheme, load_situation, load_unit
from farend_sim.scenario import Scenario
from farend_sim.situation import Situation
from line_model.meters.cycle import Stage
from line_model.plant import Plant, Section
from line_model.troubles import KINDS, Induction, Leak
from line_model.worksheet.record import loop_ohm
from tests.bench.places import ACCESS, LEAK, READ_ALL, values
from tests.bench.play import SCENARIOS, readings, shipped
from tests.bench.written import played


def test_every_trouble_with_a_place_is_known_by_sight() -> None:
    """Whoever opens a place has words for each kind of trouble that can be there."""
    unseen = {each for each in KINDS.values() if "looks" not in vars(each)}

    assert unseen == {Induction}


@settings(max_examples=25, deadline=None)
@given(off_m=st.floats(-30, 30))
def test_a_dig_finds_what_is_within_reach(off_m: float) -> None:
    """A dig makes good what is within its reach and nothing else, and tells it by sight."""
    plant = Plant(section=(Section(gauge_awg=24, length_m=2000.0),))
    leak = Leak(kind="leak", between=("tip", "sheath"), at_m=1000.0, ohm=40e3)
    (row,) = play(of(plant, leak), parse(f"repair {1000 + off_m!r}", "steps"))

    hit = abs(off_m) <= DIG_REACH_M
    assert row["found"] == ("damaged insulation found, made good" if hit else NOTHING)


def test_a_repair_shows_in_the_test_after_it(tmp_path: Path) -> None:
    """A dig in the wrong place costs time and changes nothing; the right one clears the pair."""
    steps = f"{READ_ALL}repair 1950\n{READ_ALL}repair Culvert +500\n{READ_ALL}"
    rows = played(tmp_path, ACCESS + LEAK, steps)

    read = values(rows)
    assert pytest.approx(read[:3], rel=1e-9) == read[3:6]
    assert read[1] == pytest.approx(40190, rel=0.02)
    assert read[7] is None
    assert [row["t_s"] - row["start_s"] for row in rows if "found" in row] == pytest.approx(
        [5400 + 2 * 510, 5400 + 2 * 500]
    )


def test_a_wet_stretch_is_made_good_from_within(tmp_path: Path) -> None:
    """A trouble along a stretch is reached anywhere in it, a joint's own at the joint."""
    wet = (
        '[[trouble]]\nkind = "wet"\nbetween = ["tip", "ring"]\nfrom_m = 1100.0\nto_m = 1300.0\n'
        'ohm_km = 20.0\n[[trouble]]\nkind = "series"\nconductor = "ring"\nat_m = 600.0\n'
    )
    rows = played(tmp_path, ACCESS + wet, "repair 1200\nrepair Culvert\nrepair Mill Lane\n")

    assert [row["found"] for row in rows] == [
        "water in the cable found, made good",
        NOTHING,
        "a broken conductor found, made good",
    ]


def test_a_tap_is_repaired_along_itself(tmp_path: Path) -> None:
    """A trouble on a tap is reached by the tap's name, and not from the route."""
    tap = (
        '[[plant.tap]]\nname = "Spur"\nat_m = 900.0\ngauge_awg = 24\nlength_m = 150.0\n'
        '[[trouble]]\nkind = "leak"\nbetween = ["tip", "sheath"]\non = "Spur"\nat_m = 140.0\n'
        "ohm = 9e3\n"
    )
    steps = "repair 900\nrepair 140\nrepair Spur\nrepair Spur +151\nrepair Spur +138\n"

    rows = played(tmp_path, ACCESS + tap, steps)

    assert [row.get("found") or row["refused"] for row in rows] == [
        *[NOTHING] * 3,
        "151 m is not on the tap",
        "damaged insulation found, made good",
    ]
    assert rows[-1]["t_s"] - rows[-1]["start_s"] == pytest.approx(
        5400 + 2 * (120 + 438 * 280 / 800)
    )


SWINGING = """
[[trouble]]
kind = "leak"
between = ["tip", "ring"]
at_m = 1900.0
ohm = 5e3
when = { period_s = 9.0, share = 0.6 }
[[trouble]]
kind = "leak"
between = ["tip", "sheath"]
at_m = 300.0
ohm = 5e3
emf_volt = 30.0
breakdown_volt = 8.0
"""


@pytest.mark.parametrize("later_s", [0, 3, 6])
def test_handwork_leaves_what_waiting_leaves(tmp_path: Path, later_s: int) -> None:
    """A line that comes and goes is, after handwork, as one that was looked at all the time."""
    dug = f"wait {later_s}\nrepair 800\n{READ_ALL}"
    waited = f"wait {later_s}\nwait {5400 + 2 * 190}\n{READ_ALL}"

    expected = values(played(tmp_path, ACCESS + SWINGING, waited))

    assert pytest.approx(expected, rel=1e-9) == values(played(tmp_path, ACCESS + SWINGING, dug))


STORIES = {
    "opened-both-ways": ["water in the cable found, made good"],
    "forgotten-length": [NOTHING, "conductors touching found, made good"],
    "dug-in-vain": [NOTHING, "conductors touching found, made good"],
}


@pytest.mark.parametrize("name", STORIES)
def test_stories_miss_and_hit_as_told(name: str) -> None:
    """Each scenario's repairs find what its note says, and its last loop is the whole cable's."""
    played_rows = shipped(name)

    found = [row["found"] for row in played_rows if "found" in row]
    last = readings(played_rows)[-1]
    assert found == STORIES[name]
    plant = load_situation(SCENARIOS / f"{name}.toml").scenario.plant
    assert last["value"] == pytest.approx(loop_ohm(plant), rel=0.005)


def test_a_pair_made_good_under_a_reading_spoils_it() -> None:
    """What changes while a meter samples is no reading at rest."""
    settled = []
    for by in (None, ()):
        bench = Bench(load_situation(SCENARIOS / "leak-on-tap.toml"))
        bench.clip_meter("ohms", "tip-sheath")
        bench.start_reading()
        while bench.snapshot().stage is not Stage.SAMPLE:
            bench.advance_to(bench.now_us + 50_000)
        if by is not None:
            bench.mend(by)
        settled.append(bench.finish_reading().settled)

    assert settled == [True, False]


def of(plant: Plant, *troubles: Leak) -> Situation:
    """A situation made of objects, with what ships."""
    scenario = Scenario(format=1, plant=plant, trouble=troubles)
    return Situation(
        scenario=scenario,
        scheme=load_scheme("offset", Path()),
        unit=load_unit("reference", Path()),
        meters={},
        path=Path("mine.toml"),
    )
