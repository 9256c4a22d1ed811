"""The block: which pair the leads are on, what a probe gets at a post, pinching, tying, talk."""

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.transcript import play
from farend_sim.files import load_situation
from line_model.beside import OWN
from tests.bench.play import Row, heard
from tests.bench.written import KILOMETRE, played, situation

HEAD = 'format = 1\nseed = 3\nmeters = ["volts", "ohms", "bridge", "capacitance"]\n'
BLOCK = (
    "[[plant.neighbour]]\nname = 'shop'\nstate = 'working'\npost = 4\n"
    "[[plant.neighbour]]\nname = 'call'\nstate = 'talking'\npost = 5\n"
    "[block]\npair = 9\nrecord = 8\n"
)
ON_TONE = "clip 9\nkeys #*2763*\nlisten 2\n"


def at_block(folder: Path, steps: str, more: str = "") -> list[Row]:
    return played(folder, KILOMETRE + more + BLOCK, steps, HEAD)


def levels(rows: list[Row]) -> list[float | None]:
    """What the probe got, step by step."""
    return [row["level_dbm"] for row in rows if "sounds" in row]


@pytest.mark.parametrize("step", ["read", "meter volts tip-ring", "keys #", "near short", "lift"])
def test_nothing_is_clipped_at_first(tmp_path: Path, step: str) -> None:
    """With a block, what asks for leads on a pair is refused until a post is clipped."""
    rows = at_block(tmp_path, f"{step}\nlisten 1\nclip 9\n")

    assert rows[0]["refused"] == "the leads are on no pair: clip POST first"
    assert rows[1]["heard"] == []
    assert "refused" not in rows[2]


def test_without_a_block_there_are_no_posts(tmp_path: Path) -> None:
    """A pair that has no block is clipped from the start, and posts are refused."""
    rows = played(tmp_path, KILOMETRE, "clip 1\nprobe 1\npinch 1\nmeter volts tip-ring\n")

    assert [row["refused"] for row in rows[:3]] == 3 * [
        "there is no block here: the pair is clipped from the start"
    ]
    assert "refused" not in rows[3]


def test_posts_end(tmp_path: Path) -> None:
    """A post that the block has not is refused by its number."""
    rows = at_block(tmp_path, "clip 26\nprobe 25\n")

    assert rows[0]["refused"] == "the block has posts 1 to 25"
    assert "refused" not in rows[1]


def test_the_block_is_at_the_near_end(tmp_path: Path) -> None:
    """From the far end nobody reaches a post; the leads are on the pair there without one."""
    rows = at_block(tmp_path, "go far\nprobe 9\nclip 9\nkeys #*27\nlisten 2\n")

    assert rows[1]["refused"] == "the block is at the near end, and you are not"
    assert rows[2]["refused"] == "the block is at the near end, and you are not"
    assert [one["what"] for one in rows[4]["heard"]] == ["reply"]


def test_keys_on_another_pair_reach_nobody(tmp_path: Path) -> None:
    """On the post that the record gives the knock dies; on the true post it is answered."""
    rows = at_block(tmp_path, "clip 8\nkeys #*27\nlisten 2\nclip 9\nkeys #*27\nlisten 2\n")

    assert ([rows[0]["recorded"], rows[3]["recorded"]], rows[2]["heard"]) == ([True, False], [])
    assert [one["what"] for one in rows[5]["heard"]] == ["reply"]


def test_a_meter_goes_with_the_leads(tmp_path: Path) -> None:
    """The same meter reads the pair, then the working neighbour's battery, then the pair again."""
    rows = at_block(
        tmp_path, "clip 9\nmeter volts tip-ring\nread\nclip 4\nread\nlift\nread\nread\nclip 9\nread"
    )

    shown = [row["value"] for row in rows if "shown" in row]
    assert pytest.approx([0.0, 48.0], abs=0.2) == shown[:2]
    assert abs(shown[3]) < 20
    assert pytest.approx(0.0, abs=0.01) == shown[4]


def test_lifted_neighbour_is_put_back(tmp_path: Path) -> None:
    """What is lifted behind a neighbour is its own, and nobody else's."""
    rows = at_block(tmp_path, "clip 9\nlift\nclip 4\nlift\nlift\nclip 9\nrestore\nclip 4\nrestore")

    assert [row["refused"] for row in rows if "refused" in row] == [
        "nothing is behind the near end of this pair",
        "it is lifted already",
        "nothing is lifted",
    ]


def test_a_loop_on_a_working_neighbour_draws_its_dial_tone(tmp_path: Path) -> None:
    """Who loops the wrong pair hears its office."""
    rows = at_block(tmp_path, "clip 4\nnear loop\nlisten 2\n")

    assert heard(rows) == ["dial: 350 Hz and 440 Hz, steady"]


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


def test_a_tied_pair_is_a_third_wire(tmp_path: Path) -> None:
    """A spare tied to tip at the far end: tip and the spare's leg are a loop without any strap."""
    spare = "[[plant.neighbour]]\nname = 'spare'\nstate = 'open'\n"
    leak = "[[trouble]]\nkind = 'leak'\nbetween = ['tip', 'sheath']\nat_m = 400.0\nohm = 1e4\n"
    steps = "tie spare tip\nmeter bridge bad=tip good=spare.tip\nread\nuntie\nread\n"
    rows = played(tmp_path, KILOMETRE + spare + leak, steps, HEAD)

    assert pytest.approx(400.0, abs=10) == rows[2]["trouble_m"]
    assert rows[4].get("trouble_m") is None


@pytest.mark.parametrize(
    ("step", "why"),
    [
        ("tie nobody tip", "no neighbour is named 'nobody'; there are spare"),
        ("untie", "nothing is tied on"),
        ("meter bridge bad=tip good=nobody.tip", "no neighbour is named 'nobody'"),
        ("tie spare tip\ntie spare ring", "a pair is tied on already"),
    ],
)
def test_what_cannot_be_tied(tmp_path: Path, step: str, why: str) -> None:
    """Each refusal says what is in the way."""
    spare = "[[plant.neighbour]]\nname = 'spare'\nstate = 'open'\n"
    rows = played(tmp_path, KILOMETRE + spare, step, HEAD)

    assert rows[-1]["refused"].startswith(why)


def test_a_lead_that_is_left_stays_on_its_post(tmp_path: Path) -> None:
    """A short left on a neighbour's post, gone to the far end, does not short the pair."""
    steps = "clip 8\nnear short\ngo far\nmeter ohms tip-ring\nread\n"
    own = "clip 9\nnear short\ngo far\nmeter ohms tip-ring\nread\n"
    elsewhere, shorted = (at_block(tmp_path, each)[-1] for each in (steps, own))

    assert elsewhere["over"]
    assert pytest.approx(171.0, abs=5) == shorted["value"]


def test_pinching_a_line_in_use_is_told(tmp_path: Path) -> None:
    """A pair in service is shorted: whoever does it is told so, and only then."""
    rows = at_block(tmp_path, "pinch 4\npinch 5\npinch 9\npinch 1\n")

    assert {4, 5} == {row["post"] for row in rows if "caution" in row}


def test_a_split_that_comes_and_goes(tmp_path: Path) -> None:
    """While it is there the strapped loop is open, while it is away it is whole."""
    split = (
        "[[trouble]]\nkind = 'split'\nconductor = 'ring'\nfrom_m = 300.0\n"
        "when = { period_s = 60.0, share = 0.5, regular = true }\n"
    )
    steps = (
        "wait 31\nkeys #*27\nlisten 1\nkeys 18*\nlisten 1\nmeter ohms tip-ring\nread\nwait 21\nread"
    )
    first, second = (
        row for row in played(tmp_path, KILOMETRE + split, steps, HEAD) if "shown" in row
    )

    assert pytest.approx(171.0, abs=5) == first["value"]
    assert second["over"]


def test_charge_stays_where_it_is(tmp_path: Path) -> None:
    """A pair that an ohmmeter charged keeps it, whoever is looked at in between."""
    loaded = situation(tmp_path, KILOMETRE + BLOCK, HEAD)
    left_volt = []
    for about in (OWN, "shop"):
        bench = Bench(loaded)
        bench.clip(OWN)
        bench.clip_meter("ohms", "tip-ring")
        bench.start_reading()
        bench.finish_reading()
        bench.unclip_meter()
        bench.clip(about)
        bench.advance_to(bench.now_us + 2_000_000)
        bench.clip(OWN)
        left_volt.append(bench.pair.volt_here(bench.now_us))

    assert left_volt[0] > 0.1
    assert pytest.approx(left_volt[0], rel=0.01) == left_volt[1]


def test_a_meter_on_a_neighbours_own_legs(tmp_path: Path) -> None:
    """A neighbour's legs are terminals at the near end, clipped or not, and only there."""
    shop = "[[plant.neighbour]]\nname = 'shop'\nstate = 'working'\n"
    steps = (
        "meter volts shop.tip-shop.ring\nread\nmeter volts shop.ring-sheath\nread\n"
        "meter volts tip-ring\nread\nmeter volts nobody.tip-sheath\n"
        "go far\nmeter volts shop.tip-sheath\n"
    )
    rows = played(tmp_path, KILOMETRE + shop, steps, HEAD)

    shown = [row["value"] for row in rows if "shown" in row]
    assert pytest.approx([48.0, -48.0, 0.0], abs=0.3) == shown
    assert rows[6]["refused"] == "no neighbour is named 'nobody'; there are shop"
    assert rows[8]["refused"] == "the neighbours end at the near end, and you are not there"


_STEPS = st.sampled_from(
    (
        "clip 8",
        "clip 3",
        "clip 7",
        "clip 17",
        "probe 8",
        "probe 3 ring",
        "pinch 8",
        "pinch 17",
        "lift",
        "restore",
        "near short",
        "near clear",
        "meter volts tip-sheath",
        "meter off",
        "read",
        "keys #*27",
        "keys 63*",
        "listen 1",
        "tie spare tip",
        "untie",
        "unit clip tip-sheath",
        "unit clip reversed",
        "unit unclip",
        "go far",
        "go near",
    )
)


@settings(max_examples=10, deadline=None)
@given(st.lists(_STEPS, min_size=4, max_size=10))
def test_whatever_is_done_at_a_block(typed: list[str]) -> None:
    """In any order each step is done or refused, and played again it comes to the same."""
    once, again = (
        list(play(load_situation("wrong-post"), parse("\n".join(typed), "steps"))) for _ in range(2)
    )

    assert once == again
    assert typed == [row["step"] for row in once]
