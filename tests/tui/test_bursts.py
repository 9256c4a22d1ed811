"""Keys that come in one burst, as a quick hand or a slow terminal sends them."""

from pathlib import Path

import pytest
from textual import events
from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen

from tests.tui.at_bench import screen_of, sit_down
from tests.tui.at_home import opened
from tui.panels.act_button import ActButton
from tui.panels.asked import Asked
from tui.screens.bench_screen import BenchScreen
from tui.screens.chooser import Chooser
from tui.screens.help_screen import HelpScreen
from tui.screens.home_screen import HomeScreen
from tui.screens.inside_screen import InsideScreen
from tui.screens.line_asked import LineAsked
from tui.screens.tour_screen import PAGES, TourScreen


async def burst(app: App[None], pilot: Pilot[None], keys: list[str]) -> None:
    """All keys at once, none waiting until the one before it is done with."""
    for key in keys:
        character = key if len(key) == 1 else None
        app.post_message(events.Key(key, character))
    await pilot.pause()


async def comes_to(app: App[None], pilot: Pilot[None], screen: type[Screen[object]]) -> bool:
    """Whether a screen comes to the front, however busy the machine is, and stays there."""
    for _ in range(100):
        if isinstance(app.screen, screen):
            break
        await pilot.pause(0.1)
    await pilot.pause(0.2)
    return isinstance(app.screen, screen)


@pytest.mark.parametrize(
    ("asked", "question", "keys"),
    [
        ("m", Chooser, ["enter"] * 4),
        ("m", Chooser, list("4332")),
        ("l", Chooser, ["escape"] * 3),
        ("s", LineAsked, ["enter"] * 4),
        ("s", LineAsked, ["escape"] * 4),
        ("question_mark", HelpScreen, ["escape"] * 3),
        ("t", TourScreen, ["enter"] * (len(PAGES) + 3)),
        ("f9", InsideScreen, ["escape"] * 3),
    ],
)
async def test_a_burst_closes_what_is_in_front_and_no_more(
    tmp_path: Path, asked: str, question: type[Screen[object]], keys: list[str]
) -> None:
    """The bench is there behind it, and the next question can be asked."""
    app = screen_of(sit_down(tmp_path))
    async with app.run_test(size=(100, 30)) as pilot:
        if question is TourScreen:
            app.push_screen(TourScreen())
        else:
            await pilot.press(asked)
        await pilot.pause()
        before = type(app.screen)
        await burst(app, pilot, keys)
        after = BenchScreen if await comes_to(app, pilot, BenchScreen) else type(app.screen)
        await pilot.press("m")
        works = type(app.screen)

    assert (before, after, works) == (question, BenchScreen, Chooser)


@pytest.mark.usefixtures("data")
@pytest.mark.parametrize("keys", [["escape"] * 4, ["question_mark", *["escape"] * 6]])
async def test_a_burst_in_a_lab_ends_at_home(keys: list[str]) -> None:
    """Out of the lab, and no further."""
    async with opened("bridge-timed") as (app, pilot):
        await pilot.pause()
        await burst(app, pilot, keys)
        at_home = await comes_to(app, pilot, HomeScreen)

    assert at_home


@pytest.mark.usefixtures("data")
async def test_two_clicks_on_the_way_back_go_back_once() -> None:
    """The button is asked twice before the screen has gone."""
    async with opened("bridge-timed") as (app, pilot):
        await pilot.pause()
        button = next(each for each in app.screen.query(ActButton) if each.act == "back")
        for _ in range(3):
            button.post_message(Asked("back"))
        at_home = await comes_to(app, pilot, HomeScreen)

    assert at_home


async def test_the_tour_tells_the_keys_too(tmp_path: Path) -> None:
    """The last line offers `?`, and it is no key that nothing comes of."""
    app = screen_of(sit_down(tmp_path))
    async with app.run_test(size=(100, 30)) as pilot:
        app.push_screen(TourScreen())
        await pilot.press("question_mark")
        told = type(app.screen)
        await pilot.press("escape")
        back = type(app.screen)

    assert (told, back) == (HelpScreen, TourScreen)


@pytest.mark.parametrize("keys", [list("qqqqq"), ["question_mark", *"qqqqqqqq"], list("qm1raqq")])
async def test_a_burst_that_leaves_ends_well(tmp_path: Path, keys: list[str]) -> None:
    """What is typed after the way out reaches nothing, and is no error."""
    app = screen_of(sit_down(tmp_path))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        await burst(app, pilot, keys)

    assert app.return_code == 0
