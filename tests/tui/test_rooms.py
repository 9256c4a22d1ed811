"""Home: what it lists, what opens by keys, mouse or word, and who sees what."""

import asyncio
from pathlib import Path

import pytest

from farend_sim.cautions import FIRST
from farend_sim.drill.book.class_book import ClassBook
from tests.tui.at_bench import SIZES
from tests.tui.at_home import home, item_of, seen, until
from tui.app import PairBench
from tui.pace import Pace
from tui.panels.act_button import ActButton
from tui.rooms import Item, rooms
from tui.school import School
from tui.screens.home_screen import HomeScreen
from tui.screens.tour_screen import PAGES, TourScreen

pytestmark = pytest.mark.usefixtures("data")


def test_every_shipped_scenario_is_listed() -> None:
    """All rooms have something in them, and the first scenario stands first."""
    listed = rooms()

    assert all(room.items for room in listed)
    assert listed[0].items[0].name == "good-pair"
    assert [item.name for item in listed[0].items].count("foreign-battery") == 1


def test_what_is_listed_does_not_tell_what_is_wrong() -> None:
    """A trainee finds a scenario by its pair; by what it shows only a trainer does."""
    told = {item.name: item.title for item in rooms()[0].items}
    shown = {item.name: item.title for item in rooms(titles=True)[0].items}

    assert told["leak-on-tap"].startswith("Pair 5 of the Orchard cable")
    assert shown["leak-on-tap"].startswith("A leak at the end of a tap")


async def test_to_a_bench_and_back() -> None:
    """Right and Enter open the first pair; q goes home, and out of the program from there."""
    app = home()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("right", "enter")
        opened = await seen(pilot)
        await pilot.press("q")
        back = isinstance(app.screen, HomeScreen)
        await pilot.press("q")

    assert "Pair bench | Pair 14 of the Marl Lane cable" in opened
    assert (back, app.return_code) == (True, 0)


async def test_by_mouse() -> None:
    """A room, what is in it, and the buttons of the last line take clicks."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.click("#rooms", offset=(4, 4))
        chosen = await seen(pilot)
        await pilot.click("#things", offset=(4, 1))
        in_lab = await seen(pilot)
        back = next(each for each in app.screen.query(ActButton) if each.act == "back")
        await pilot.click(back)
        await pilot.pause()
        at_home = isinstance(app.screen, HomeScreen)

    assert "Framed functions" in chosen
    assert "Scheme lab |" in in_lab
    assert at_home


async def test_the_caution_is_everywhere() -> None:
    """Home, labs and the trainer's screen say it to the last word, where there is least room."""
    app = home()
    said = []
    async with app.run_test(size=SIZES["80x24"]) as pilot:
        said.append(await seen(pilot))
        for name in ("terse", "good-pair"):
            app.open_item(item_of(name))
            said.append(await seen(pilot))
            if name == "terse":
                await pilot.press("escape")
        await pilot.press("f9")
        said.append(await seen(pilot))

    assert [FIRST in text for text in said] == [True] * 4


async def test_the_tour_is_shown_once(data: Path) -> None:
    """At the first start, to its end or skipped; not again, unless it is asked for."""
    (data / "shown" / "tour").unlink()
    app = home()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        at_first = isinstance(app.screen, TourScreen)
        await pilot.press(*["enter"] * len(PAGES))
        over = isinstance(app.screen, HomeScreen)
    again = home()
    async with again.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        at_second = isinstance(again.screen, TourScreen)
        await pilot.press("t")
        asked_for = isinstance(again.screen, TourScreen)

    assert (at_first, over, at_second, asked_for) == (True, True, False, True)


async def test_the_palette_finds_an_act_by_a_word_of_it() -> None:
    """Our own acts in our own words, and at home all that can be opened."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("ctrl+p", *"tramway")
        await until(pilot, "Traction")
        await asyncio.sleep(0.3)
        await pilot.press("enter")
        opened = await until(pilot, "Pair bench | Pair 4 of the")
        await pilot.press("ctrl+p", *"terminals")
        found = await until(pilot, "Choose the two terminals")

    assert "clipped to" in found
    assert "runs beside the tramway" in opened


async def test_only_the_trainer_sees_the_class(tmp_path: Path) -> None:
    """The class is a room only for who has its book and the trainer's switch."""
    book = tmp_path / "class.db"
    with ClassBook.open(book):
        pass
    seen_at = {}
    for trainers in (False, True):
        app = PairBench(None, Pace(lambda: 0.0), trainers=trainers, school=School(book, None))
        async with app.run_test(size=(100, 30)) as pilot:
            seen_at[trainers] = await seen(pilot)
            if trainers:
                await pilot.press("end", "enter", "enter")
                told = await seen(pilot)

    assert ["Class" in text for text in seen_at.values()] == [False, True]
    assert "Your name, as the class book has it?" in seen_at[False]
    assert "The class book class.db" in told


async def test_a_bad_file_is_told_and_home_stays(tmp_path: Path) -> None:
    """The same words as everywhere; nothing is left."""
    file = tmp_path / "bad.toml"
    file.write_text("format = 1\ntitel = 'x'\n")
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(Item("scenario", str(file), "x"))
        told = await seen(pilot)
        await pilot.press("escape")
        back = isinstance(app.screen, HomeScreen)

    assert "titel" in told
    assert back
