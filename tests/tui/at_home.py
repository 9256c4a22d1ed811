"""The app at home for tests, its rooms opened, its clock standing still."""

import asyncio
import contextlib
from collections.abc import AsyncIterator

from textual.pilot import Pilot

from tests.tui.at_bench import text_of
from tui.app import PairBench
from tui.pace import Pace
from tui.rooms import Item, rooms
from tui.school import School


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


@contextlib.asynccontextmanager
async def opened(
    name: str, size: tuple[int, int] = (100, 30)
) -> AsyncIterator[tuple[PairBench, Pilot[None]]]:
    """What home lists by this name, opened."""
    app = home()
    async with app.run_test(size=size) as pilot:
        app.open_item(item_of(name))
        yield app, pilot
