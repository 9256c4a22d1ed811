"""What a probe and an ear get at a block: the unit's tone, pinched or not, and talk."""

from pathlib import Path
from typing import Any

import pytest

from tests.bench.block import HEAD, at_block
from tests.bench.play import Row
from tests.bench.written import KILOMETRE, played

ON_TONE = "clip 9\nkeys #*2763*\nlisten 2\n"


def levels(rows: list[Row]) -> list[float | None]:
    """What the probe got, step by step."""
    return [row["level_dbm"] for row in rows if "sounds" in row]


def test_only_the_pair_itself_sounds_between_the_legs(tmp_path: Path) -> None:
    """The unit's tone between the legs: full on its own post, nothing on any other."""
    rows = at_block(tmp_path, ON_TONE + "".join(f"probe {post}\n" for post in range(1, 26)))

    got = dict(enumerate(levels(rows), start=1))
    assert {9} == {post for post, level_dbm in got.items() if level_dbm is not None}
    assert (got[9] or -99) > -10


def test_along_one_leg_the_tone_is_everywhere(tmp_path: Path) -> None:
    """From leg to sheath it is on every post, far down, loudest on its own."""
    posts = (1, 4, 8, 9, 25)
    steps = ON_TONE + "unit clip tip-sheath\n" + "".join(f"probe {post} tip\n" for post in posts)
    got = dict(zip(posts, levels(at_block(tmp_path, steps)), strict=True))

    assert (got[9] or -99) > -10
    assert all(-60 < (got[post] or -99) < -40 for post in posts if post != 9)


def test_one_leg_open_one_leg_sounds(tmp_path: Path) -> None:
    """With ring open beside the block the tone comes in on tip, and on ring hardly any."""
    cut = "[[trouble]]\nkind = 'series'\nconductor = 'ring'\nat_m = 20.0\n"
    on_tone = "go far\nkeys #*27859006*\nlisten 2\nkeys #*2763*\nlisten 2\ngo near\n"
    tip, ring = levels(at_block(tmp_path, on_tone + "probe 9 tip\nprobe 9 ring\n", cut))

    assert tip is not None
    assert ring is not None
    assert tip > ring + 12


def test_pinching_kills_the_own_tone_alone(tmp_path: Path) -> None:
    """Pressed together, the pair's legs carry no tone; on a neighbour's nothing changes."""
    rows = at_block(tmp_path, ON_TONE + "pinch 9\nunit clip tip-sheath\npinch 20\n")
    own, other = (row["probe"] for row in rows if "probe" in row)

    assert all(got["pinched_dbm"] < got["level_dbm"] - 50 for got in own.values())
    for place in ("tip-sheath", "ring-sheath"):
        got: dict[str, Any] = other[place]
        assert pytest.approx(got["level_dbm"], abs=0.1) == got["pinched_dbm"]


def test_pinching_a_line_in_use_is_told(tmp_path: Path) -> None:
    """A pair in service is shorted: whoever does it is told so, and only then."""
    rows = at_block(tmp_path, "pinch 4\npinch 5\npinch 9\npinch 1\n")

    assert {4, 5} == {row["post"] for row in rows if "caution" in row}


def test_no_tone_no_sound(tmp_path: Path) -> None:
    """The probe gets nothing while the unit sends no tone, nor with the unit off the pair."""
    rows = at_block(
        tmp_path, "clip 9\nprobe 9\nkeys #*2763*\nlisten 2\nprobe 9\nunit unclip\nprobe 9"
    )

    first, second, third = levels(rows)
    assert (first, third) == (None, None)
    assert second is not None


def test_a_look_changes_nothing(tmp_path: Path) -> None:
    """Probing all posts in mid-tone leaves later readings and sounds as they are without."""
    after = "listen 2\nmeter volts tip-sheath\nread\n"
    without = at_block(tmp_path, ON_TONE + "wait 20\n" + after)
    probed = at_block(tmp_path, ON_TONE + 5 * "probe 4\n" + after)

    assert [row["heard"] for row in without[-3:]] == [row["heard"] for row in probed[-3:]]
    assert without[-1]["value"] == probed[-1]["value"]


def test_the_tone_is_as_loud_as_where_the_leads_are(tmp_path: Path) -> None:
    """Moved to another post in mid-tone, the ear loses it; back again, it has it."""
    rows = at_block(tmp_path, ON_TONE + "clip 8\nlisten 2\nclip 9\nlisten 2\n")

    assert [[one["what"] for one in rows[i]["heard"]] for i in (4, 6)] == [[], ["tone"]]


def test_talk_is_heard_on_its_own_post(tmp_path: Path) -> None:
    """Clipped to a pair in use the ear gets voices, loud; on the pair beside it none."""
    rows = at_block(tmp_path, "clip 5\nlisten 1\nclip 9\nlisten 1\n")

    (voices,) = rows[1]["heard"]
    assert (voices["what"], voices["pattern"]) == ("noise", "voices, from another pair")
    assert voices["level_dbm"] > -15
    assert rows[3]["heard"] == []


def test_talk_over_a_split_is_heard(tmp_path: Path) -> None:
    """Split with a pair in use the pair has its voices on it, and fainter over a shorter split."""
    loud = []
    for to_m in (900.0, 500.0):
        split = (
            "[[plant.neighbour]]\nname = 'call'\nstate = 'talking'\n"
            "[[trouble]]\nkind = 'split'\nconductor = 'tip'\nneighbour = 'call'\n"
            f"from_m = 100.0\nto_m = {to_m}\n"
        )
        (row,) = played(tmp_path, KILOMETRE + split, "listen 2\n", HEAD)
        loud.append([one["level_dbm"] for one in row["heard"] if one["what"] == "noise"])

    assert [len(one) for one in loud] == [1, 1]
    assert loud[0][0] > loud[1][0] + 3
