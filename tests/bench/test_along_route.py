"""Along the route: going, opening a joint, looking both ways, joining by hand."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.joints import OPENED
from line_model.network import Mesh
from line_model.plant import Access, Plant, Section
from line_model.route import route
from line_model.troubles import Leak, Series
from tests.bench.places import (
    ACCESS,
    CROSSED,
    LEAK,
    LEG_TO_GROUND,
    OPEN,
    READ_ALL,
    REVERSAL,
    STRAIGHT,
    refusals,
    values,
)
from tests.bench.play import heard
from tests.bench.written import played, situation


@pytest.mark.parametrize("place", ["Mill Lane", "Culvert", "far"])
def test_there_and_back_changes_no_reading(tmp_path: Path, place: str) -> None:
    """Who goes somewhere and comes back reads at the near end what was read before."""
    rows = played(tmp_path, ACCESS + LEAK, f"{READ_ALL}go {place}\n{READ_ALL}go near\n{READ_ALL}")

    read = values(rows)
    assert pytest.approx(read[:3], rel=1e-9) == read[6:]


@pytest.mark.parametrize("place", ["Mill Lane", "Culvert"])
def test_a_joint_opened_and_joined_straight_is_as_it_was(tmp_path: Path, place: str) -> None:
    """Opening a joint and joining it straight again changes no reading, on either side."""
    there = f"go {place}\n{READ_ALL}"
    steps = f"{LEG_TO_GROUND}{there}{OPEN}{STRAIGHT}{READ_ALL}go near\n{LEG_TO_GROUND}"

    read = values(played(tmp_path, ACCESS + LEAK, steps))

    assert pytest.approx(read[:3], rel=1e-9) == read[9:]
    assert pytest.approx(read[3:6], rel=1e-9) == read[6:9]


def test_legs_joined_crosswise_are_a_reversal(tmp_path: Path) -> None:
    """A joint joined crosswise reads as a reversal at its place does, and mends one."""
    go = f"go Mill Lane\nopen-joint\n{CROSSED}go near\n"
    reversal = values(played(tmp_path, ACCESS + LEAK + REVERSAL, LEG_TO_GROUND))
    crossed = values(played(tmp_path, ACCESS + LEAK, go + LEG_TO_GROUND))
    straight = values(played(tmp_path, ACCESS + LEAK, LEG_TO_GROUND))
    mended = values(played(tmp_path, ACCESS + LEAK + REVERSAL, go + LEG_TO_GROUND))

    assert pytest.approx(reversal, rel=1e-9) == crossed
    assert pytest.approx(straight, rel=1e-9) == mended
    assert straight[1] is not None
    assert abs(straight[1] - (crossed[1] or 0)) > 10


@pytest.mark.parametrize("place", ["Mill Lane", "Culvert"])
def test_both_looks_add_up_to_the_whole_loop(tmp_path: Path, place: str) -> None:
    """The loop toward the near end, shorted there, and toward the strap make the whole loop."""
    strapped = "keys #*2718*\nlisten 2\nmeter ohms tip-ring\nzero\nread\nmeter off\nwait 60\n"
    opened = f"near short\ngo {place}\nopen-joint\nlook far\n{strapped}"
    near = "look near\nmeter ohms tip-ring\nread\n"

    whole, far, back = values(played(tmp_path, ACCESS, strapped + opened + near))

    # each reading is off by a count of 0.1 ohm at most, and the near look has a clip lead in it
    assert pytest.approx(whole, abs=0.4) == (far or 0) + (back or 0)


@pytest.mark.parametrize("place", ["Mill Lane", "Culvert"])
def test_an_opened_joint_takes_the_unit_out_of_hearing(tmp_path: Path, place: str) -> None:
    """Keys on the near side of an opened joint do not reach the unit; on the far side they do."""
    knock = "keys #*27\nlisten 2\n"
    rows = played(tmp_path, ACCESS, f"go {place}\nopen-joint\n{knock}look far\n{knock}")

    deaf, hears = (row for row in rows if row["step"] == "listen 2")
    assert (heard([deaf]), len(heard([hears]))) == ([], 1)


def test_what_is_left_on_is_left_on(tmp_path: Path) -> None:
    """A clip lead stays where it was put, and another may be put elsewhere."""
    read = "meter ohms tip-ring\nread\nmeter off\n"
    steps = f"near short\ngo Culvert\nnear ground\ngo near\n{read}near clear\n{read}"

    short, grounded = values(played(tmp_path, ACCESS, steps))

    assert short is not None
    assert short < 1
    # both legs to the sheath at Culvert: a loop as far as there
    assert grounded == pytest.approx(2 * (1000 * 0.0857 + 400 * 0.1363), rel=0.03)


def test_a_clip_lead_left_on_a_joint_comes_off_from_either_side(tmp_path: Path) -> None:
    """A lead put on one side of an open joint is at hand when the joint is joined again."""
    read = "meter ohms tip-ring\nread\nmeter off\n"
    there = f"go Culvert\nopen-joint\nlook far\nnear short\n{STRAIGHT}go near\n{read}"

    left, cleared = values(
        played(tmp_path, ACCESS, f"{there}go Culvert\nnear clear\ngo near\n{read}")
    )

    assert left == pytest.approx(2 * (1000 * 0.0857 + 400 * 0.1363), rel=0.03)
    assert cleared is None


def test_the_way_takes_its_time(tmp_path: Path) -> None:
    """The way takes what the plant says, or goes by its length; back it takes as long."""
    rows = played(tmp_path, ACCESS, "go Culvert\ngo Mill Lane\ngo far\ngo near\n")

    took = [row["t_s"] - row["start_s"] for row in rows]
    assert took == pytest.approx([400.0, 280.0, 500.0, 620.0])


@pytest.mark.parametrize("kind", ["joint", "pedestal"])
def test_opening_a_sheath_without_a_bond_is_cautioned(tmp_path: Path, kind: str) -> None:
    """A joint's sheath is bonded across before it is opened; a pedestal's is not opened."""
    body = ACCESS.replace('"pedestal"', f'"{kind}"')

    bare = played(tmp_path, body, "go Culvert\nopen-joint\n")
    bonded = played(tmp_path, body, "go Culvert\nbond\nopen-joint\n")

    assert ("caution" in bare[-1]) == (kind == "joint")
    assert "caution" not in bonded[-1]


def test_what_cannot_be_done_is_refused(tmp_path: Path) -> None:
    """Each act along the route is refused where it has no sense, and the run goes on."""
    steps = (
        "look far\nbond\nopen-joint\njoin tip tip\ngo near\ngo Weir\nrepair Weir\nrepair 2501\n"
        "go Culvert\nlook near\nbond\nlift\nopen-joint\nopen-joint\njoin tip ring\njoin ring ring\n"
        "look far\ngo far\nopen-joint\n"
    )
    rows = played(tmp_path, ACCESS, steps)

    assert refusals(rows) == [
        "no joint is open here: one that is joined is seen both ways at once",
        "no sheath is opened here",
        "no joint that can be opened is here",
        "no joint that can be opened is here",
        "you are there already",
        "no place is named 'Weir'; there are near, Mill Lane, Culvert, far",
        "no place is named 'Weir'; there are near, Mill Lane, Culvert, far",
        "2501 m is not on the route",
        "no joint is open here: one that is joined is seen both ways at once",
        "no sheath is opened here",
        "what is behind the near end is there, and you are not",
        "it is open already",
        "the near side's tip is joined to the far side's ring already",
        "no joint is open here: one that is joined is seen both ways at once",
        "no joint that can be opened is here",
    ]


def test_the_unit_goes_off_the_pair_and_on_again(tmp_path: Path) -> None:
    """Unclipped, nothing of the unit is on the pair and it hears nothing; clipped, it answers."""
    knock = "keys #*27\nlisten 2\n"
    steps = f"unit unclip\nunit unclip\n{knock}unit wake\nwait 3\nunit clip\n{knock}"
    rows = played(tmp_path, ACCESS, steps)

    assert refusals(rows) == ["the unit is off the pair already"]
    first, last = (row for row in rows if row["step"] == "listen 2")
    assert (heard([first]), len(heard([last]))) == ([], 1)


def test_unclipped_is_as_off_the_pair_and_asleep_is_not(tmp_path: Path) -> None:
    """Clips off, the pair reads as in `off-pair`; a unit that is switched off loads it still."""
    bench = Bench(situation(tmp_path, ACCESS))
    pair, hz = bench.pair, (0.0, 697.0)

    def seen(unit: UnitOnPair) -> list[complex | None]:
        return Mesh(hz, wiring(pair.route, unit, NearEnd(), Equipment())).ohm("tip", "ring")

    away = seen(replace(pair.unit, clipped=False))
    assert away == pytest.approx(seen(replace(pair.unit, closed=frozenset({Contact.OFF_PAIR}))))
    asleep = seen(replace(pair.unit, closed=SETTLED[State.ASLEEP]))
    assert abs(away[0] or 0) > 1.5 * abs(asleep[0] or 0)
    assert abs(away[1] or 0) > 1.01 * abs(asleep[1] or 0)


def test_a_tone_is_heard_where_the_line_lets_it(tmp_path: Path) -> None:
    """A tone that sounds stops being heard over an opened joint, and without the unit's clips."""
    listen = "listen 4\n"
    steps = (
        f"keys #*27859006*\nwait 2\nkeys #*2763*\nwait 2\n{listen}unit unclip\n{listen}unit clip\n"
        f"{listen}go Culvert\n{listen}open-joint\n{listen}look far\n{listen}"
    )
    rows = played(tmp_path, ACCESS, steps)

    tones = [
        any(one["what"] == "tone" for one in row["heard"])
        for row in rows
        if row["step"] == listen.strip()
    ]
    assert tones == [True, False, True, True, False, True]


def test_joints_keep_the_names_of_nodes() -> None:
    """A joint opened or crossed has the nodes of one that is joined: only resistors differ."""
    access = (Access(name="A", at_m=300.0), Access(name="B", at_m=700.0))
    plant = Plant(section=(Section(gauge_awg=24, length_m=1000.0),), access=access)
    laid = route(plant, (), 0)

    opened = laid.joined({"A": frozenset()})

    assert [joint.name for joint in laid.joints] == ["A", "B"]
    assert set(opened.parts) < set(laid.parts)
    assert len(laid.parts) - len(opened.parts) == 2


@settings(max_examples=25, deadline=None)
@given(at_m=st.integers(1, 1799), leak_m=st.integers(0, 1800))
def test_an_opened_joint_is_an_open_in_both_legs(at_m: int, leak_m: int) -> None:
    """From either end an opened joint is seen as two conductors broken at its place are."""
    section = (Section(gauge_awg=24, length_m=1100.0), Section(gauge_awg=26, length_m=700.0))
    leak = Leak(kind="leak", between=("tip", "sheath"), at_m=leak_m, ohm=3e3)
    broken = tuple(Series(kind="series", conductor=leg, at_m=at_m) for leg in ("tip", "ring"))
    with_joint = Plant(section=section, access=(Access(name="A", at_m=at_m),))

    opened = route(with_joint, (leak,), 3).joined({"A": OPENED})
    cut = route(Plant(section=section), (*broken, leak), 3)

    for terminals in ("near", "far"):
        seen, expected = (
            [
                ohm
                for a, b in combinations(
                    ("tip", "ring", "sheath") if terminals == "near" else way.far, 2
                )
                for ohm in Mesh((0.0, 697.0, 1633.0), way.parts).ohm(a, b)
            ]
            for way in (opened, cut)
        )
        assert seen == pytest.approx(expected, rel=1e-6)
