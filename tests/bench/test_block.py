"""The block: which pair the leads are on, and what stays where when they move."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.files import load_situation
from line_model.beside import OWN
from tests.bench.block import BLOCK, HEAD, at_block
from tests.bench.play import heard
from tests.bench.written import KILOMETRE, played, situation


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


_STEPS = """clip 8|clip 3|clip 7|clip 17|probe 8|probe 3 ring|pinch 8|pinch 17|lift|restore
near short|near clear|meter volts tip-sheath|meter off|read|keys #*27|keys 63*|listen 1
tie spare tip|untie|unit clip tip-sheath|unit clip reversed|unit unclip|go far|go near"""


@settings(max_examples=10, deadline=None)
@given(st.lists(st.sampled_from(re.split(r"[|\n]", _STEPS)), min_size=4, max_size=10))
def test_whatever_is_done_at_a_block(typed: list[str]) -> None:
    """In any order each step is done or refused, and played again it comes to the same."""
    once, again = (
        list(play(load_situation("wrong-post"), parse("\n".join(typed), "steps"))) for _ in range(2)
    )

    assert once == again
    assert typed == [row["step"] for row in once]
