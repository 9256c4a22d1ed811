"""Along the route: going, opening a joint, looking both ways, joining by hand, repairing."""

from itertools import combinations
from pathlib import Path
from typing import get_args, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.repairing import DIG_REACH_M, NOTHING, SEEN
from farend_sim.bench.steps_grammar import parse
from farend_sim.bench.transcript import play
from farend_sim.files import load_scheme, load_situation, load_unit
from farend_sim.scenario import Scenario
from farend_sim.situation import Situation
from line_model.joints import OPENED
from line_model.network import Mesh
from line_model.plant import Access, Plant, Section
from line_model.route import route
from line_model.troubles import Leak, Series, Trouble
from line_model.worksheet.record import leg_ohms, loop_ohm, seen_from
from tests.bench.play import SCENARIOS, Row, heard, readings
from tests.bench.play import rows as rows_of
from tests.bench.written import played, situation

ACCESS = """
[[plant.section]]
gauge_awg = 24
length_m = 1000.0
[[plant.section]]
gauge_awg = 26
length_m = 1500.0
[[plant.access]]
name = "Mill Lane"
at_m = 600.0
[[plant.access]]
name = "Ford"
at_m = 1400.0
kind = "pedestal"
travel_s = 400.0
"""
LEAK = """
[[trouble]]
kind = "leak"
between = ["tip", "sheath"]
at_m = 1900.0
ohm = 40e3
"""
REVERSAL = '[[trouble]]\nkind = "reversal"\nat_m = 600.0\n'
READ_ALL = "".join(
    f"meter ohms {across}\nread\n" for across in ("tip-ring", "tip-sheath", "ring-sheath")
)
LEG_TO_GROUND = "keys #*2729*\nlisten 2\n" + READ_ALL + "meter off\n"
OPEN = "open-joint\n"
STRAIGHT = "join tip tip\njoin ring ring\n"
CROSSED = "join tip ring\njoin ring tip\n"


def values(rows: list[Row]) -> list[float | None]:
    """What was read, in order."""
    return [row["value"] for row in readings(rows)]


def refusals(rows: list[Row]) -> list[str]:
    """What was refused, in order."""
    return [row["refused"] for row in rows if "refused" in row]


@pytest.mark.parametrize("place", ["Mill Lane", "Ford", "far"])
def test_there_and_back_changes_no_reading(tmp_path: Path, place: str) -> None:
    """Who goes somewhere and comes back reads at the near end what was read before."""
    rows = played(tmp_path, ACCESS + LEAK, f"{READ_ALL}go {place}\n{READ_ALL}go near\n{READ_ALL}")

    read = values(rows)
    assert pytest.approx(read[:3], rel=1e-9) == read[6:]


@pytest.mark.parametrize("place", ["Mill Lane", "Ford"])
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


@pytest.mark.parametrize("place", ["Mill Lane", "Ford"])
def test_both_looks_add_up_to_the_whole_loop(tmp_path: Path, place: str) -> None:
    """The loop toward the near end, shorted there, and toward the strap make the whole loop."""
    strapped = "keys #*2718*\nlisten 2\nmeter ohms tip-ring\nzero\nread\nmeter off\nwait 60\n"
    opened = f"near short\ngo {place}\nopen-joint\nlook far\n{strapped}"
    near = "look near\nmeter ohms tip-ring\nread\n"

    whole, far, back = values(played(tmp_path, ACCESS, strapped + opened + near))

    # each reading is off by a count of 0.1 ohm at most, and the near look has a clip lead in it
    assert pytest.approx(whole, abs=0.4) == (far or 0) + (back or 0)


@pytest.mark.parametrize("place", ["Mill Lane", "Ford"])
def test_an_opened_joint_takes_the_unit_out_of_hearing(tmp_path: Path, place: str) -> None:
    """Keys on the near side of an opened joint do not reach the unit; on the far side they do."""
    knock = "keys #*27\nlisten 2\n"
    rows = played(tmp_path, ACCESS, f"go {place}\nopen-joint\n{knock}look far\n{knock}")

    deaf, hears = (row for row in rows if row["step"] == "listen 2")
    assert (heard([deaf]), len(heard([hears]))) == ([], 1)


def test_what_is_left_on_is_left_on(tmp_path: Path) -> None:
    """A clip lead stays where it was put, and another may be put elsewhere."""
    read = "meter ohms tip-ring\nread\nmeter off\n"
    steps = f"near short\ngo Ford\nnear ground\ngo near\n{read}near clear\n{read}"

    short, grounded = values(played(tmp_path, ACCESS, steps))

    assert short is not None
    assert short < 1
    # both legs to the sheath at Ford: a loop as far as there
    assert grounded == pytest.approx(2 * (1000 * 0.0857 + 400 * 0.1363), rel=0.03)


def test_a_clip_lead_left_on_a_joint_comes_off_from_either_side(tmp_path: Path) -> None:
    """A lead put on one side of an open joint is at hand when the joint is joined again."""
    read = "meter ohms tip-ring\nread\nmeter off\n"
    there = f"go Ford\nopen-joint\nlook far\nnear short\n{STRAIGHT}go near\n{read}"

    left, cleared = values(played(tmp_path, ACCESS, f"{there}go Ford\nnear clear\ngo near\n{read}"))

    assert left == pytest.approx(2 * (1000 * 0.0857 + 400 * 0.1363), rel=0.03)
    assert cleared is None


def test_every_trouble_with_a_place_is_known_by_sight() -> None:
    """Whoever opens a place has words for each kind of trouble that can be there."""
    kinds = {
        kind
        for each in get_args(Trouble)
        for kind in get_args(get_type_hints(each, include_extras=False)["kind"])
    }

    assert kinds - set(SEEN) == {"induction"}


def test_a_loop_is_counted_from_where_one_stands(tmp_path: Path) -> None:
    """Metres of loop are the record's, from the place and the way the leads look."""
    strapped = "keys #*2718*\nlisten 2\nmeter ohms tip-ring\nzero\nread\n"
    rows = played(tmp_path, ACCESS, f"go Ford\n{OPEN}look far\n{strapped}")

    (row,) = readings(rows)
    assert (row["where"], row["looking"]) == ("Ford", "far")
    assert row["loop_m"] == pytest.approx(1100.0, abs=3)


def test_a_joint_that_is_joined_has_no_one_loop(tmp_path: Path) -> None:
    """Over a joint that is joined both ways are read at once, and no distance is told."""
    rows = played(tmp_path, ACCESS, "near short\ngo Ford\nmeter ohms tip-ring\nread\n")

    (row,) = readings(rows)
    assert row["loop_m"] is None
    assert "looking" not in row


def test_the_way_takes_its_time(tmp_path: Path) -> None:
    """The way takes what the plant says, or goes by its length; back it takes as long."""
    rows = played(tmp_path, ACCESS, "go Ford\ngo Mill Lane\ngo far\ngo near\n")

    took = [row["t_s"] - row["start_s"] for row in rows]
    assert took == pytest.approx([400.0, 280.0, 500.0, 620.0])


@pytest.mark.parametrize("kind", ["joint", "pedestal"])
def test_opening_a_sheath_without_a_bond_is_cautioned(tmp_path: Path, kind: str) -> None:
    """A joint's sheath is bonded across before it is opened; a pedestal's is not opened."""
    body = ACCESS.replace('"pedestal"', f'"{kind}"')

    bare = played(tmp_path, body, "go Ford\nopen-joint\n")
    bonded = played(tmp_path, body, "go Ford\nbond\nopen-joint\n")

    assert ("caution" in bare[-1]) == (kind == "joint")
    assert "caution" not in bonded[-1]


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
    steps = f"{READ_ALL}repair 1950\n{READ_ALL}repair Ford +500\n{READ_ALL}"
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
    rows = played(tmp_path, ACCESS + wet, "repair 1200\nrepair Ford\nrepair Mill Lane\n")

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
    played_rows = rows_of(name)

    found = [row["found"] for row in played_rows if "found" in row]
    last = readings(played_rows)[-1]
    assert found == STORIES[name]
    plant = load_situation(SCENARIOS / f"{name}.toml").scenario.plant
    assert last["value"] == pytest.approx(loop_ohm(plant), rel=0.005)


def test_what_cannot_be_done_is_refused(tmp_path: Path) -> None:
    """Each act along the route is refused where it has no sense, and the run goes on."""
    steps = (
        "look far\nbond\nopen-joint\njoin tip tip\ngo near\ngo Weir\nrepair Weir\nrepair 2501\n"
        "go Ford\nlook near\nbond\nlift\nopen-joint\nopen-joint\njoin tip ring\njoin ring ring\n"
        "look far\ngo far\nopen-joint\n"
    )
    rows = played(tmp_path, ACCESS, steps)

    assert refusals(rows) == [
        "no joint is open here: one that is joined is seen both ways at once",
        "no sheath is opened here",
        "no joint that can be opened is here",
        "no joint that can be opened is here",
        "you are there already",
        "no place is named 'Weir'; there are near, Mill Lane, Ford, far",
        "no place is named 'Weir'; there are near, Mill Lane, Ford, far",
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


def test_a_tone_is_heard_where_the_line_lets_it(tmp_path: Path) -> None:
    """A tone that sounds stops being heard over an opened joint, and without the unit's clips."""
    listen = "listen 4\n"
    steps = (
        f"keys #*27859006*\nwait 2\nkeys #*2763*\nwait 2\n{listen}unit unclip\n{listen}unit clip\n"
        f"{listen}go Ford\n{listen}open-joint\n{listen}look far\n{listen}"
    )
    rows = played(tmp_path, ACCESS, steps)

    tones = [
        any(one["what"] == "tone" for one in row["heard"])
        for row in rows
        if row["step"] == listen.strip()
    ]
    assert tones == [True, False, True, True, False, True]


def test_the_record_is_what_is_reckoned_with(tmp_path: Path) -> None:
    """A loop's metres are the record's, however the plant is."""
    record = "[[record.section]]\ngauge_awg = 24\nlength_m = 2000.0\n"
    short = '[[trouble]]\nkind = "leak"\nbetween = ["tip", "ring"]\nat_m = 1000.0\nohm = 0.01\n'
    steps = "meter ohms tip-ring\nzero\nread\n"
    plain = "[[plant.section]]\ngauge_awg = 26\nlength_m = 1000.0\n"

    (row,) = readings(played(tmp_path, plain + record + short, steps))

    # two gauges finer is 10 ** 0.2 times the ohms
    assert row["loop_m"] == pytest.approx(1000 * 10**0.2, rel=0.02)


def test_a_record_without_access_points_has_the_plants(tmp_path: Path) -> None:
    """The record may say where an access point is; what it does not say is as it is."""
    record = "[[record.section]]\ngauge_awg = 24\nlength_m = 2300.0\n"
    said = '[[record.access]]\nname = "Ford"\nat_m = 1200.0\n'
    said += '[[record.access]]\nname = "Mill Lane"\nat_m = 600.0\n'

    bare = situation(tmp_path, ACCESS + record).scenario.recorded
    own = situation(tmp_path, ACCESS + record + said).scenario.recorded

    assert [access.at_m for access in bare.access] == [600.0, 1400.0]
    assert [access.at_m for access in own.access] == [1200.0, 600.0]
    where = Bench(situation(tmp_path, ACCESS + record + said)).pair.where
    assert [where.said_m(place) for place in where.places] == [0.0, 600.0, 1200.0, 2300.0]


sections = st.lists(
    st.tuples(st.sampled_from((19, 22, 24, 26)), st.floats(10, 3000)), min_size=1, max_size=4
)


@given(sections=sections, share=st.floats(0.01, 0.99))
def test_both_parts_of_a_record_are_the_whole(
    sections: list[tuple[int, float]], share: float
) -> None:
    """Seen from any place, the record toward both ends is the whole record."""
    plant = Plant(section=tuple(Section(gauge_awg=g, length_m=m) for g, m in sections))  # type: ignore[arg-type]
    at_m = share * plant.length_m

    near, far = seen_from(plant, at_m, "near"), seen_from(plant, at_m, "far")

    assert near is not None
    assert far is not None
    assert at_m == pytest.approx(near.length_m)
    assert loop_ohm(plant) == pytest.approx(loop_ohm(near) + loop_ohm(far))
    # the nearest copper is counted first, whichever way one looks
    assert leg_ohms(near).at(1e-3) == pytest.approx(
        leg_ohms(plant).at(at_m) - leg_ohms(plant).at(at_m - 1e-3), rel=1e-6
    )


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
@given(at_m=st.floats(1, 1799), leak_m=st.floats(0, 1800))
def test_an_opened_joint_is_an_open_in_both_legs(at_m: float, leak_m: float) -> None:
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
