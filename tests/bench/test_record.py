"""The record: what is reckoned with, and from where."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from line_model.plant import Gauge, Plant, Section
from line_model.worksheet.record import leg_ohms, loop_ohm, seen_from
from tests.bench.places import ACCESS, LEAK, OPEN
from tests.bench.play import readings
from tests.bench.written import played, situation
from tests.line_model.added_up import up_to


def test_a_loop_is_counted_from_where_one_stands(tmp_path: Path) -> None:
    """Metres of loop are the record's, from the place and the way the leads look."""
    strapped = "keys #*2718*\nlisten 2\nmeter ohms tip-ring\nzero\nread\n"
    rows = played(tmp_path, ACCESS, f"go Culvert\n{OPEN}look far\n{strapped}")

    (row,) = readings(rows)
    assert (row["where"], row["looking"]) == ("Culvert", "far")
    assert row["loop_m"] == pytest.approx(1100.0, abs=3)


def test_every_instrument_counts_from_where_one_stands(tmp_path: Path) -> None:
    """A bridge toward the strap and a capacitance toward an open end tell metres from the joint."""
    steps = (
        f"go Culvert\n{OPEN}look far\nkeys #*2718*\nlisten 2\n"
        "meter bridge bad=tip good=ring\nread\n"
        "meter off\nlook near\nmeter capacitance tip-ring\nread\n"
    )
    head = 'format = 1\nmeters = ["bridge", "capacitance"]\n'

    bridged, opened = readings(played(tmp_path, ACCESS + LEAK, steps, head))

    # the leak is at 1900 m, Culvert at 1400; both within the instruments' stated accuracy
    assert bridged["trouble_m"] == pytest.approx(500, abs=10)
    assert opened["open_m"] == pytest.approx(1400, rel=0.015)


def test_a_joint_that_is_joined_has_no_one_loop(tmp_path: Path) -> None:
    """Over a joint that is joined both ways are read at once, and no distance is told."""
    rows = played(tmp_path, ACCESS, "near short\ngo Culvert\nmeter ohms tip-ring\nread\n")

    (row,) = readings(rows)
    assert row["loop_m"] is None
    assert "looking" not in row


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
    said = '[[record.access]]\nname = "Culvert"\nat_m = 1200.0\n'
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
    sections: list[tuple[Gauge, float]], share: float
) -> None:
    """Seen from any place, the record toward both ends is the whole record."""
    plant = Plant(section=tuple(Section(gauge_awg=g, length_m=m) for g, m in sections))
    at_m = share * plant.length_m

    near, far = seen_from(plant, at_m, "near"), seen_from(plant, at_m, "far")

    assert near is not None
    assert far is not None
    assert at_m == pytest.approx(near.length_m)
    assert loop_ohm(plant) == pytest.approx(loop_ohm(near) + loop_ohm(far))
    # the nearest copper is counted first, whichever way one looks
    assert up_to(leg_ohms(near), 1e-3) == pytest.approx(
        up_to(leg_ohms(plant), at_m) - up_to(leg_ohms(plant), at_m - 1e-3), rel=1e-6
    )
