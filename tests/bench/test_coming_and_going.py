"""What comes and goes on the bench, as stories: swinging trouble, ringing, surge protection."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from farend_sim.files import find_unit
from line_model import equipment as e
from tests.bench.play import heard, lines, readings
from tests.bench.written import KILOMETRE, played

HEAD = 'format = 1\nmeters = ["volts", "ac-volts", "ohms", "insulation"]\n'
SWINGING = (
    KILOMETRE
    + '[[trouble]]\nkind = "leak"\nbetween = ["tip", "ring"]\nat_m = 400.0\nohm = 50.0\n'
    + "when = { period_s = 1.0, share = 0.5 }\n"
)
RINGING = KILOMETRE + '[beyond]\nequipment = "office"\nringing = true\n'


def test_a_reading_wanders_between_two_ends(tmp_path: Path) -> None:
    """A leak that swings within a reading leaves it unsettled, between the leak and over range."""
    steps = "meter ohms tip-ring\n" + "read\n" * 6
    told = readings(played(tmp_path, SWINGING, steps))

    assert {False} == {row["settled"] for row in told}
    assert [row["shown"] for row in told if " .. " in row["shown"]]


@settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(cuts=st.lists(st.integers(1, 30), max_size=4))
def test_cutting_time_moves_no_pattern(tmp_path: Path, cuts: list[int]) -> None:
    """However a wait is cut up, what is read after it is the same to the byte."""
    measure = "meter volts tip-sheath\nread\nmeter ohms tip-ring\nread\nread\n"
    whole = readings(played(tmp_path, SWINGING, f"wait {sum(cuts) / 10:g}\n{measure}"))
    apart = "".join(f"wait {cut / 10:g}\n" for cut in cuts)

    assert lines(whole) == lines(readings(played(tmp_path, SWINGING, apart + measure)))


def test_another_seed_swings_otherwise(tmp_path: Path) -> None:
    """The pattern is the scenario's seed's."""
    steps = "meter ohms tip-ring\n" + "read\n" * 4
    shown = [
        [row["shown"] for row in readings(played(tmp_path, SWINGING, steps, f"{HEAD}seed = {n}\n"))]
        for n in (1, 2)
    ]

    assert shown[0] != shown[1]


@pytest.mark.parametrize(("wait_s", "answers"), [(6.0, 0), (8.5, 1)])
def test_a_knock_in_a_burst_of_ringing_is_lost(tmp_path: Path, wait_s: float, answers: int) -> None:
    """Ringing overloads the receiver for its two seconds; in the pause a knock is heard."""
    told = played(tmp_path, RINGING, f"wait {wait_s}\nkeys #*27\nlisten 1.5\n")

    assert answers == len([one for one in heard(told) if one.startswith("reply")])


def test_ringing_is_ninety_volts_and_a_buzz(tmp_path: Path) -> None:
    """Now and then some 89 V stand on ring, and none on tip; an ear hears a buzz."""
    steps = "wait 5\nmeter ac-volts ring-sheath\nread\nmeter ac-volts tip-sheath\nwait 2.3\nread\n"
    told = played(tmp_path, RINGING, steps)
    ring, tip = (row["shown"] for row in readings(told))

    assert pytest.approx(89.4, abs=1.0) == float(ring.split(" .. ")[-1].split()[0])
    assert float(tip.split(" .. ")[-1].split()[0]) < 0.2
    assert "noise: a coarse buzz" in heard(told)


def test_open_contacts_keep_ringing_off(tmp_path: Path) -> None:
    """In a hold no burst is seen, heard, or in the way of a reading."""
    steps = "wait 2.5\nkeys #*2718*\nwait 3\nmeter ohms tip-ring\nread\nread\nread\n"
    told = played(tmp_path, RINGING, steps)

    assert [row["settled"] for row in readings(told)] == [True] * 3
    assert not [one for row in told[3:] for one in row["heard"] or () if one["what"] == "noise"]


def test_surge_protection_spoils_an_insulation_test(tmp_path: Path) -> None:
    """With the unit on, 250 V find its protection; sent off the pair, the cable alone."""
    steps = "meter insulation tip-sheath\nread\nmeter off\nkeys #*2707*\nwait 1\n"
    steps += "meter insulation tip-sheath\nread\n"
    on, off = (row["value"] for row in readings(played(tmp_path, KILOMETRE, steps, HEAD)))

    assert 3e6 < on < 5e6
    assert off > 5e8


def test_service_does_not_reach_the_protection() -> None:
    """Battery and the crest of ringing together stay below where it conducts; 250 V do not."""
    surge_volt = find_unit("reference").electrical.surge_volt
    assert surge_volt is not None

    assert abs(e.FEED_VOLT.value) + 2**0.5 * e.RING_VOLT.value < surge_volt
    assert surge_volt < 250
