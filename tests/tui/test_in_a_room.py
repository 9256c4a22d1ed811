"""What is done in a room, by keys, from opening it to a result."""

import re
from pathlib import Path

import pytest
from textual.widgets import OptionList

from tests.tui.at_bench import SCENARIOS, sit_down
from tests.tui.at_home import opened, seen, until
from tui.screens.bench_screen import BenchScreen

README = SCENARIOS.parent / "README.md"
pytestmark = pytest.mark.usefixtures("data")


async def test_a_finding_is_played_key_by_key() -> None:
    """Checked in a thread, listed, and its keys pressed on a bench until it is seen there."""
    async with opened("welded") as (app, pilot):
        await pilot.press("c")
        await until(pilot, "something is wrong")
        await pilot.press("enter")
        await until(pilot, "TRAINER")
        for _ in range(200):
            app.advance(200_000)
        played = await seen(pilot)
        at_bench = isinstance(app.screen, BenchScreen)
        await pilot.press("q")
        back = await seen(pilot)

    assert at_bench
    assert "played 7 of 7" in played
    assert "Scheme lab" in back


async def test_the_hold_is_moved_by_arrows() -> None:
    """The curve's mark and the numbers follow; b is the cheapest, as the lab's answer has it."""
    async with opened("bridge-timed") as (_, pilot):
        at_first = await until(pilot, "A hold of 60 s")
        await pilot.press("up", "right")
        moved = await seen(pilot)
        await pilot.press("b")
        best = await seen(pilot)

    assert "cheapest is 65 s" in at_first
    assert "A hold of 71 s" in moved
    assert "until the next command 86.4 s (cheapest 86.4 s)" in best


async def test_the_trainer_puts_in_and_takes_out() -> None:
    """A fault of the unit and a trouble of the line, by a key, seen in the far end's inside."""
    async with opened("nothing-back", (140, 45)) as (app, pilot):
        await pilot.press("f9")
        at_first = await seen(pilot)
        app.screen.query_one(OptionList).highlighted = 6
        await pilot.press("enter")
        mended = await seen(pilot)
        app.screen.query_one(OptionList).highlighted = 2
        await pilot.press("enter")
        deaf = await seen(pilot)
        assert app.at is not None
        steps = [row["step"] for row in app.at.sitting.rows]

    assert "[x] line: leak tip-ring at 1325 m" in at_first
    assert "deaf to the keypad" in at_first
    assert "[ ] line: leak tip-ring at 1325 m" in mended
    assert "hears the keypad" in mended
    assert "[x] unit: deaf" in deaf
    assert steps == ["fault deaf on"]
    assert "deaf to the keypad" in deaf


async def test_along_the_route_by_choices() -> None:
    """Go to a joint, open it, look both ways: the near end's panel says where one is."""
    async with opened("opened-both-ways") as (_, pilot):
        await pilot.press("p", "1")
        gone = await seen(pilot)
        await pilot.press("p", "5", "p", "6", "p", "8")
        looking = await seen(pilot)

    assert "You are at Mill Lane." in gone
    assert "toward far" in looking


async def test_posts_are_probed() -> None:
    """At the block leads are clipped, the probe held, and a post keeps what was found at it."""
    async with opened("wrong-post") as (app, pilot):
        await pilot.press("k", "down", "c", "p")
        probed = await seen(pilot)
        await pilot.press("escape")
        back = isinstance(app.screen, BenchScreen)

    assert "Post 2: tip-ring" in probed
    assert "leads on it" in probed
    assert back


async def test_a_reading_is_reckoned_with() -> None:
    """The worksheet starts from what the logbook has, on the record, and says the place."""
    async with opened("nothing-back") as (app, pilot):
        await pilot.press("m", "2", "r")
        app.advance(8_000_000)
        await pilot.press("w", "x", "1", "enter")
        reckoned = await until(pilot, "from the near end")

    assert "Worksheet: loop --ohm" in reckoned


def test_the_trainers_command_of_the_readme_has_troubles(tmp_path: Path) -> None:
    """What is taken out and put in are the troubles of the file that is named there."""
    (name,) = re.findall(r"bench (\S+) --trainer", README.read_text(encoding="utf-8"))

    assert sit_down(tmp_path, name).situation.scenario.trouble
