"""What shipped stories are told for: their order, and what their readings show together."""

import pytest

from tests.bench.play import Row, readings, shipped


def _steps(played: list[Row]) -> list[str]:
    return [row["step"] for row in played]


def _of(played: list[Row], meter: str, across: str) -> list[float | None]:
    return [
        row["value"] for row in readings(played) if (row["meter"], row["across"]) == (meter, across)
    ]


def test_a_whole_job_goes_in_its_order() -> None:
    """Lifted, volts and hum three ways, tone, ohms, strap, bridge, repair, all again, restored."""
    steps = _steps(shipped("whole-job"))
    order = (
        "lift",
        "meter volts tip-ring",
        "meter ac-volts ring-sheath",
        "keys #*2763*",
        "pinch 18",
        "meter ohms tip-sheath",
        "keys #*2718*",
        "meter bridge bad=ring good=tip",
        "repair Well",
        "meter insulation tip-sheath",
        "keys #*2741*",
        "meter noise tip-ring",
        "restore",
        "near loop",
        "near clear",
    )
    places = [steps.index(step) for step in order]

    assert sorted(places) == places
    assert steps[0].startswith("note ticket")
    assert steps[-1].startswith("note close")
    assert "refused" not in {key for row in shipped("whole-job") for key in row}


def test_a_whole_job_has_readings_before_and_after() -> None:
    """Ring leaks two ways before and is clear after; the loop is the same; service is back."""
    played = shipped("whole-job")
    repaired = _steps(played).index("repair Well")
    before, after = played[:repaired], played[repaired:]

    assert [value is not None for value in _of(before, "ohms", "sheath-ring")] == [True]
    assert _of(after, "ohms", "ring-sheath")[0] is None
    loops = [_of(part, "ohms", "tip-ring")[0] for part in (before, after)]
    assert pytest.approx(loops[0], rel=1e-5) == loops[1]
    bridge = next(row for row in before if row.get("meter") == "bridge" and "shown" in row)
    assert abs(bridge["trouble_m"] - 1860.0) < 5.0
    assert pytest.approx([48.0, 48.0 * 430 / 830], rel=0.005) == _of(after, "volts", "tip-ring")
    assert "dial" in {one["what"] for row in after for one in row["heard"] or ()}
    assert played[-1]["far"]["state"] == "idle"


def test_a_cell_reads_two_ways_and_the_bridge_does_not_mind() -> None:
    """Half a volt in the leak: 62 kilohm read more than nine times as much, and a third."""
    played = shipped("whole-job")
    one, other = (_of(played, "ohms", across)[0] for across in ("ring-sheath", "sheath-ring"))

    assert one is not None
    assert other is not None
    assert other < 62e3 / 2.5 < 62e3 * 9 < one


def test_hum_deafens_where_nothing_is_strapped() -> None:
    """Two releases are lost with tip grounded, and the timer ends it; the reason is the hum.

    Both ends open half of what is induced stands on each leg; one end grounded the whole.
    """
    played = shipped("hum-deafens")
    lost = [row for row in played if row["step"] == "keys #*2796*"]

    assert [row["far"]["state"] for row in lost] == ["tip-ground", "tip-ground"]
    assert all(
        "over noise and other sounds" in why for row in lost for why in row["far"]["not_heard"]
    )
    half, grounded, both = _of(played, "ac-volts", "tip-sheath")
    assert half is not None
    assert pytest.approx([2 * half, 2 * half], rel=0.01) == [grounded, both]
    (quiet, across) = _of(played, "ac-volts", "tip-ring")
    assert quiet is not None
    assert across is not None
    assert quiet < 0.01 < 1.0 < across


def test_a_leak_that_dries_moves_and_its_place_does_not() -> None:
    """Ohms climb from reading to reading; the bridge has one place; nanofarads are too many."""
    played = shipped("drying-out")
    climbing = [value or 0.0 for value in _of(played, "ohms", "tip-sheath")]
    bridges = [row for row in readings(played) if row["meter"] == "bridge"]
    (capacitance,) = (row for row in readings(played) if row["meter"] == "capacitance")

    assert sorted(climbing) == climbing
    assert climbing[-1] > 5 * climbing[0]
    assert pytest.approx([1240.0, 1240.0], abs=6.0) == [row["trouble_m"] for row in bridges]
    # 36 % more over a quarter of it
    assert pytest.approx(2400 * 1.09, rel=0.01) == capacitance["open_m"]
