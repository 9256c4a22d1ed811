"""Home and its rooms, by keys and by mouse: from where one comes in to a result."""

import asyncio
import json
import re
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from farend_sim.cautions import FIRST
from farend_sim.drill.class_book import ClassBook
from tests.tui.at_bench import SIZES, text_of
from tui.app import PairBench
from tui.pace import Pace
from tui.panels.act_button import ActButton
from tui.rooms import Item, rooms
from tui.school import School
from tui.screens.bench_screen import BenchScreen
from tui.screens.debrief_screen import DebriefScreen
from tui.screens.home_screen import HomeScreen
from tui.screens.tour_screen import PAGES, TourScreen


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder of the test's own, the tour seen already."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    shown = tmp_path / "farend-sim" / "shown"
    shown.mkdir(parents=True)
    (shown / "tour").touch()
    return tmp_path / "farend-sim"


def home(school: School | None = None) -> PairBench:
    """The app at home; its clock stands still."""
    return PairBench(None, Pace(lambda: 0.0), school=school)


async def seen(pilot: Pilot[None]) -> str:
    """The screen as text, once it is drawn."""
    app = pilot.app
    assert isinstance(app, PairBench)
    await pilot.pause()
    app.refresh_views()
    await pilot.pause()
    return " ".join(text_of(app).split())


async def until(pilot: Pilot[None], word: str) -> str:
    """Wait until a word is to be seen."""
    async with asyncio.timeout(60):
        while word not in (text := await seen(pilot)):
            await asyncio.sleep(0.05)
    return text


def item_of(name: str) -> Item:
    """What home lists by this name."""
    return next(item for room in rooms() for item in room.items if item.name == name)


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


@pytest.mark.parametrize("name", ["mill-end-4", "crooked-chapel-10"])
async def test_a_drills_screens_do_not_tell(name: str) -> None:
    """Ticket, bench, help, hint, choices and worksheet, searched for the figures of the trouble."""
    app = home()
    texts = []
    async with app.run_test(size=(140, 45)) as pilot:
        app.open_item(item_of(name))
        texts.append(await until(pilot, "Meters at hand"))
        await pilot.press("escape")
        for key in ("question_mark", "e", "a", "x", "i", "f8", "f9"):
            await pilot.press(key)
            texts.append(await seen(pilot))
            await pilot.press("escape")
        assert app.at is not None
        assert app.at.drill.attempt is not None
        truth = app.at.drill.attempt.drill.truth
    figures = [
        f"{value:g}" for one in truth for value in (one.at_m, one.ohm) if value and value > 9
    ]

    assert figures
    assert [one for one in figures if re.search(rf"\b{one}\b", " ".join(texts))] == []


async def test_a_new_drill_is_made_and_kept(data: Path) -> None:
    """A level's row makes a drill, opens it, and lists it from then on; nothing of it is told."""
    app = home()
    item = next(each for room in rooms() for each in room.items if each.kind == "new")
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item)
        ticket = await until(pilot, "Meters at hand")
        assert app.at is not None
        assert app.at.drill.attempt is not None
        truth = app.at.drill.attempt.drill.truth
        await pilot.press("escape")
        bench = await seen(pilot)
    kept = [each for room in rooms() for each in room.items if str(data) in each.name]

    assert [(each.kind, each.done) for each in kept] == [("drill", "under way")]
    assert "of 20 min" in bench
    places = [f"{one.at_m:.0f}" for one in truth if one.at_m is not None]
    assert [place for place in places if place in ticket + bench] == []
    assert "skills" not in Path(kept[0].name).read_text(encoding="utf-8")


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


async def test_a_finding_is_played_key_by_key() -> None:
    """Checked in a thread, listed, and its keys pressed on a bench until it is seen there."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("welded"))
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
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("quick-bridge"))
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
    app = home()
    async with app.run_test(size=(140, 45)) as pilot:
        app.open_item(item_of("nothing-back"))
        await pilot.press("f9")
        at_first = await seen(pilot)
        app.screen.query_one(OptionList).highlighted = 6
        await pilot.press("enter")
        mended = await seen(pilot)
        app.screen.query_one(OptionList).highlighted = 2
        await pilot.press("enter")
        deaf = await seen(pilot)

    assert "[x] line: leak tip-ring at 1325 m" in at_first
    assert "deaf to the keypad" in at_first
    assert "[ ] line: leak tip-ring at 1325 m" in mended
    assert "hears the keypad" in mended
    assert "[x] unit: deaf" in deaf
    assert "deaf to the keypad" in deaf


async def test_along_the_route_by_choices() -> None:
    """Go to a joint, open it, look both ways: the near end's panel says where one is."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("opened-both-ways"))
        await pilot.press("p", "1")
        gone = await seen(pilot)
        await pilot.press("p", "5", "p", "6", "p", "8")
        looking = await seen(pilot)

    assert "You are at Mill Lane." in gone
    assert "toward far" in looking


async def test_posts_are_probed() -> None:
    """At the block leads are clipped, the probe held, and a post keeps what was found at it."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("wrong-post"))
        await pilot.press("k", "down", "c", "p")
        probed = await seen(pilot)
        await pilot.press("escape")
        back = isinstance(app.screen, BenchScreen)

    assert "Post 2, tip-ring" in probed
    assert "leads on it" in probed
    assert back


async def test_a_reading_is_reckoned_with() -> None:
    """The worksheet starts from what the logbook has, on the record, and says the place."""
    app = home()
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("nothing-back"))
        await pilot.press("m", "2", "r")
        app.advance(8_000_000)
        await pilot.press("w", "x", "1", "enter")
        reckoned = await until(pilot, "from the near end")

    assert "Worksheet: loop --ohm" in reckoned


def drill_steps(data: Path) -> list[str]:
    """What an attempt's journal has."""
    (file,) = data.glob("attempts/**/*.jsonl")
    entries = [json.loads(line) for line in file.read_text().splitlines()]
    return [entry["step"] for entry in entries if "step" in entry]


async def test_a_drill_from_its_ticket_to_the_debrief(data: Path, tmp_path: Path) -> None:
    """Worked, answered, handed in, entered into the class book; then every step again."""
    school = School(tmp_path / "class.db", "Anna")
    app = home(school)
    name = next(item.name for room in rooms() for item in room.items if item.kind == "drill")
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of(name))
        ticket = await seen(pilot)
        await pilot.press("escape", "f8")
        no_look = await seen(pilot)
        await pilot.press("m", "1", "r")
        app.advance(8_000_000)
        await pilot.press("w", "a", "1")
        kept = drill_steps(data)
        await pilot.press("v", "1")
        verdict = await seen(pilot)
        in_debrief = isinstance(app.screen, DebriefScreen)
        await pilot.press("end")
        last = await seen(pilot)

    assert "Ticket:" in ticket
    assert "nobody looks inside" in no_look
    assert kept[1:] == ["read", "log", "answer none"]
    assert in_debrief
    assert "of 100" in verdict
    assert "4 of 4" in last, last
    assert (tmp_path / "class.db").is_file()


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


async def test_a_drill_left_goes_on(data: Path) -> None:
    """Left half-way, home says that it is under way, and it opens where it was."""
    name = next(item.name for room in rooms() for item in room.items if item.kind == "drill")
    now_us: list[int] = []

    for _ in range(2):
        app = home()
        async with app.run_test(size=(100, 30)) as pilot:
            app.open_item(item_of(name))
            assert app.at is not None
            now_us.append(app.at.sitting.bench.now_us)
            await pilot.press("escape", "l", "1")
            app.advance(3_000_000)
            await pilot.press("q")

    assert item_of(name).done == "under way"
    assert now_us == [0, 3_000_000]
    assert drill_steps(data) == ["near clear", "near clear"]


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
