"""The screen in a real browser: a drill from its start to the verdict, by clicks and keys.

Source: Chromium, headless, as the distribution ships it. What is seen is a canvas, so what was done
is read from the journal, and the picture is kept for eyes: PICTURES=folder.
"""

import asyncio
import contextlib
import json
import os
import socket
import sys
import time
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import aiohttp
import pytest

from tests.oracles.browser import PROGRAM, Page, browser
from tui.serving.seats import COOKIE, Seats

pytestmark = pytest.mark.outside
TOKEN = "a-token-for-tests"
PATIENCE_S = 60.0
SETTLES_S = 2.0
"""A question is on the screen by then, and takes the next key."""
ENDED = (aiohttp.WSMsgType.CLOSE, aiohttp.WSMsgType.CLOSING, aiohttp.WSMsgType.CLOSED)


@contextlib.asynccontextmanager
async def served(folder: Path, *more: str) -> AsyncIterator[str]:
    """A server on this machine; gives its address."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = ("-m", "tui.commands.entry", "serve", "--port", str(port), "--token", TOKEN, *more)
    process = await asyncio.create_subprocess_exec(
        sys.executable,
        *words,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
        env={**os.environ, "XDG_DATA_HOME": str(folder)},
    )
    assert process.stdout is not None
    try:
        address = (await asyncio.wait_for(process.stdout.readline(), PATIENCE_S)).decode().strip()
        await _answers(address)
        yield address
    finally:
        process.terminate()
        try:
            await asyncio.wait_for(process.wait(), 15)
        except TimeoutError:
            process.kill()
            raise


async def _answers(address: str) -> None:
    """Wait until the server takes calls."""
    async with aiohttp.ClientSession() as session:
        for _ in range(100):
            with contextlib.suppress(aiohttp.ClientConnectionError):
                async with session.get(address):
                    return
            await asyncio.sleep(0.1)


async def until(happened: Any) -> Any:
    """What comes of asking again and again until there is something."""
    ends_s = time.monotonic() + PATIENCE_S
    while not (came := happened()) and time.monotonic() < ends_s:
        await asyncio.sleep(0.2)
    return came


def journal(folder: Path) -> list[dict[str, Any]]:
    """The one attempt's entries."""
    files = list(folder.glob("farend-sim/seats/*/farend-sim/attempts/**/*.jsonl"))
    return [json.loads(line) for file in files for line in file.read_text().splitlines()]


def steps(folder: Path) -> list[str]:
    """What was done."""
    return [entry["step"] for entry in journal(folder) if "step" in entry]


@pytest.mark.skipif(PROGRAM is None, reason="no browser is installed")
async def test_a_drill_in_a_browser(tmp_path: Path) -> None:
    """Clicked open, read, answered and handed in; nothing was asked of another machine."""
    data, book = tmp_path / "data", tmp_path / "class.db"
    async with (
        served(data, "--class", str(book)) as address,
        browser(tmp_path / "browser", 1200, 800) as page,
    ):
        await page.do("Page.navigate", url=address)
        await _opened(page)
        assert await until(lambda: list(data.glob("farend-sim/seats/*/farend-sim/shown/tour")))
        await asyncio.sleep(SETTLES_S)
        await page.type("[Escape]Anna[Enter]")
        await asyncio.sleep(SETTLES_S)
        await page.click(60, 66)
        await asyncio.sleep(SETTLES_S)
        await page.type("[ArrowRight][Enter]")
        assert await until(lambda: journal(data))
        await asyncio.sleep(SETTLES_S)
        await page.type("[Escape]m1r")
        assert await until(lambda: "read" in steps(data))
        await page.type("a")
        await asyncio.sleep(SETTLES_S)
        await page.type("1")
        assert await until(lambda: "answer none" in steps(data))
        await asyncio.sleep(SETTLES_S)
        await page.type("v")
        await asyncio.sleep(SETTLES_S)
        await page.type("1")
        assert await until(lambda: any("handed_in" in entry for entry in journal(data)))
        await asyncio.sleep(SETTLES_S)
        await page.picture(Path(os.environ.get("PICTURES", tmp_path)) / "debrief.png")
        asked = page.asked

    assert steps(data)[-1] == "answer none"
    assert {address_.split("//")[1].split("/")[0] for address_ in asked} == {
        address.split("//")[1].split("/")[0]
    }


async def _opened(page: Page) -> None:
    for _ in range(100):
        if "-first-byte" in str(await page.value("document.body.className")):
            break
        await asyncio.sleep(0.2)
    await asyncio.sleep(1)
    await page.click(600, 740)


async def test_without_the_token_there_is_nothing(tmp_path: Path) -> None:
    """No page, no part of one and no socket; nor for a page of another place."""
    async with served(tmp_path) as address, aiohttp.ClientSession() as session:
        root = address.removesuffix(f"{TOKEN}/")
        asked = (
            (root, {}),
            (f"{root}wrong/", {}),
            (f"{root}wrong/static/js/textual.js", {}),
            (f"{address}static/../server.py", {}),
            (f"{address}ws", {}),
            (address, {"Origin": "http://elsewhere.example"}),
            (address, {}),
            (f"{address}static/js/textual.js", {}),
        )
        status = []
        for url, headers in asked:
            async with session.get(url, headers=headers) as answer:
                status.append(answer.status)

    assert status == [404, 404, 404, 404, 503, 403, 200, 200]


async def test_no_more_than_there_are_places(tmp_path: Path) -> None:
    """The second person is told; the same person again takes the place over."""
    async with served(tmp_path, "--most", "1") as address:
        one, two = ({COOKIE: Seats.new()} for _ in range(2))
        async with (
            aiohttp.ClientSession(cookies=one) as first,
            aiohttp.ClientSession(cookies=two) as second,
            first.ws_connect(f"{address}ws") as held,
        ):
            await asyncio.wait_for(held.receive(), PATIENCE_S)
            async with second.get(address) as answer:
                refused = answer.status
            async with first.ws_connect(f"{address}ws") as again:
                await asyncio.wait_for(again.receive(), PATIENCE_S)
                while (await asyncio.wait_for(held.receive(), PATIENCE_S)).type not in ENDED:
                    pass

    assert refused == 503
