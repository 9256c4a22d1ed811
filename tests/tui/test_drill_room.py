"""A drill on the full screen: what it does not tell, its whole way, and where it goes on."""

import json
import re
from pathlib import Path

import pytest

from farend_sim.drill.book.class_book import ClassBook
from tests.tui.at_bench import SIZES
from tests.tui.at_home import home, item_of, opened, seen, until
from tui.rooms import rooms
from tui.school import School
from tui.screens.debrief_screen import DebriefScreen

pytestmark = pytest.mark.usefixtures("data")


def drill_steps(data: Path) -> list[str]:
    """What an attempt's journal has."""
    (file,) = data.glob("attempts/**/*.jsonl")
    entries = [json.loads(line) for line in file.read_text().splitlines()]
    return [entry["step"] for entry in entries if "step" in entry]


async def test_a_drills_screens_do_not_tell() -> None:
    """Ticket, bench, help, hint, choices and worksheet, searched for the figures of the trouble."""
    app = home()
    texts = []
    async with app.run_test(size=(140, 45)) as pilot:
        app.open_item(item_of("crooked-chapel-10"))
        texts.append(await until(pilot, "Meters at hand"))
        await pilot.press("escape")
        for keys in ("question_mark", "e 1", "a", "x", "i", "f8", "f9"):
            await pilot.press(*keys.split())
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


async def test_home_knows_who_works(tmp_path: Path) -> None:
    """Each trainee's own drills are marked; entered again, an attempt takes its own place."""
    book = tmp_path / "class.db"
    school = School(book, "Anna")
    app = home(school)
    async with app.run_test(size=(100, 30)) as pilot:
        app.open_item(item_of("orchard-row-1"))
        await pilot.press("escape")
        assert app.at is not None
        attempt = app.at.drill.attempt
        assert attempt is not None
        await pilot.press("q", "down", "right")
        back = await seen(pilot)
        attempt.hand_in()
        for _ in range(2):
            school.enter(attempt)
    done = {
        who: [item.done for room in rooms(trainee=who) for item in room.items if item.done]
        for who in ("Anna", "Ben", None)
    }
    with ClassBook.open(book) as entered:
        attempts = entered.attempts()

    assert "under way" in back
    assert done == {"Anna": ["under way"], "Ben": [], None: []}
    assert len(attempts) == 1


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


async def test_an_answer_asks_what_its_kind_leaves_open(data: Path) -> None:
    """A short is tip to ring and asks for no legs; what was answered can be taken back there."""
    async with opened("foundry-yard-2") as (app, pilot):
        await pilot.press("escape", "a")
        at_first = await seen(pilot)
        await pilot.press("2")
        after_short = await seen(pilot)
        await pilot.press("enter", "enter", "2")
        assert app.at is not None
        assert app.at.drill.attempt is not None
        (short,) = app.at.drill.attempt.answers
        await pilot.press("a", "up", "enter")
        left = app.at.drill.attempt.answers
        steps = drill_steps(data)

    assert "take back" not in at_first
    assert "conductors" not in after_short
    assert (short.kind, short.leg, short.action) == ("leak", ("tip", "ring"), "repair")
    assert (left, steps[-1]) == ((), "answer drop")


async def test_an_answers_place_is_asked_for_part_by_part() -> None:
    """It starts from what the worksheet came to; what is no number can be mended."""
    async with opened("foundry-yard-2") as (app, pilot):
        await pilot.press("escape", "x", "2")
        await pilot.press(*["backspace"] * 20, *"--fraction 0.3", "enter")
        reckoned = await until(pilot, "from the near end")
        await pilot.press("escape", "a", "2")
        where = await seen(pilot)
        await pilot.press("enter", "enter", *"lo", "enter", "2")
        wrong = await seen(pilot)
        await pilot.press(*["left"] * len(" action=repair"), "w", "enter")
        assert app.at is not None
        assert app.at.drill.attempt is not None
        (answer,) = app.at.drill.attempt.answers
        assert answer.at_m is not None
        assert answer.within_m is not None

    assert f"{answer.at_m:.0f} m from the near end" in reckoned
    assert f"{answer.at_m:.0f}" in where
    assert "found 'lo'" in wrong
    assert (answer.leg, answer.ohm, answer.within_m > 0) == (("tip", "ring"), 100.0, True)


async def test_a_hint_says_what_it_costs_before_it_is_told() -> None:
    """Left, it costs nothing; the way out stands on a narrow last line, too."""
    async with opened("foundry-yard-2", SIZES["80x24"]) as (app, pilot):
        await pilot.press("escape", "e")
        asked = await seen(pilot)
        assert app.at is not None
        attempt = app.at.drill.attempt
        assert attempt is not None
        await pilot.press("2")
        left = attempt.hints
        await pilot.press("e", "1")
        taken = attempt.hints
        await pilot.press("e")
        again = await seen(pilot)

    assert "A hint takes 3 of 100 marks" in asked
    assert "q leave" in asked
    assert "A hint takes" not in again
    assert (left, taken) == (0, 1)
