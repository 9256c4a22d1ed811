"""A headless browser driven over its debugging socket: open, click, type, look."""

import asyncio
import base64
import contextlib
import os
import re
import shutil
import signal
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import aiohttp

PROGRAM = next(
    filter(None, map(shutil.which, ("chromium-headless-shell", "chromium", "chromium-browser"))),
    None,
)


class Page:
    """One page of a browser."""

    def __init__(self, socket: aiohttp.ClientWebSocketResponse) -> None:
        self._socket, self._number = socket, 0
        self._answers: dict[int, asyncio.Future[Any]] = {}
        self.asked: list[str] = []
        """Every address that the page asked for."""
        self._task = asyncio.create_task(self._listen())

    async def _listen(self) -> None:
        async for message in self._socket:
            said = message.json()
            if "id" in said:
                self._answers.pop(said["id"]).set_result(said)
            elif said["method"] in ("Network.requestWillBeSent", "Network.webSocketCreated"):
                params = said["params"]
                self.asked.append(params.get("url") or params["request"]["url"])

    async def do(self, method: str, **params: Any) -> dict[str, Any]:
        """Ask the browser for something."""
        self._number += 1
        answer = self._answers[self._number] = asyncio.get_running_loop().create_future()
        await self._socket.send_json({"id": self._number, "method": method, "params": params})
        said: dict[str, Any] = await asyncio.wait_for(answer, 20)
        assert "error" not in said, said
        result: dict[str, Any] = said["result"]
        return result

    async def value(self, script: str) -> Any:
        """What a script comes to."""
        answer = await self.do("Runtime.evaluate", expression=script, returnByValue=True)
        return answer["result"].get("value")

    async def type(self, text: str) -> None:
        """Press keys, one after another; a name in brackets is a key of its own: `[Enter]`."""
        for key in re.findall(r"\[\w+\]|.", text):
            name = key[1:-1] if len(key) > 1 else key
            code = {"Enter": 13, "Escape": 27, "ArrowDown": 40, "ArrowRight": 39}.get(name, 0)
            letters = {"Enter": "\r"}.get(name, name if len(name) == 1 else "")
            more = {"text": letters} if letters else {}
            both = {"key": name, "windowsVirtualKeyCode": code}
            await self.do("Input.dispatchKeyEvent", type="keyDown", **both, **more)
            await self.do("Input.dispatchKeyEvent", type="keyUp", **both)
            # a key right behind Escape would be taken for one keyed together with it
            await asyncio.sleep(0.5 if name == "Escape" else 0.05)

    async def click(self, x: float, y: float) -> None:
        """Press and let go of the mouse's button."""
        for kind in ("mousePressed", "mouseReleased"):
            await self.do(
                "Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1
            )
            await asyncio.sleep(0.05)

    async def picture(self, file: Path) -> None:
        """Keep what is to be seen."""
        shot = await self.do("Page.captureScreenshot", format="png")
        file.write_bytes(base64.b64decode(shot["data"]))

    def close(self) -> None:
        self._task.cancel()


@contextlib.asynccontextmanager
async def browser(folder: Path, width: int, height: int) -> AsyncIterator[Page]:
    """A browser with one empty page."""
    assert PROGRAM is not None
    options = ["--headless", "--no-sandbox", "--disable-gpu", "--remote-debugging-port=0"]
    size = [f"--user-data-dir={folder}", f"--window-size={width},{height}", "about:blank"]
    pipe = asyncio.subprocess.PIPE
    process = await asyncio.create_subprocess_exec(
        PROGRAM,
        *options,
        *size,
        stdout=asyncio.subprocess.DEVNULL,
        stderr=pipe,
        start_new_session=True,
    )
    try:
        address = await asyncio.wait_for(_address(process), 30)
        async with aiohttp.ClientSession() as session:
            async with session.get(f"{address}/json") as answer:
                pages = await answer.json(content_type=None)
            target = next(each for each in pages if each["type"] == "page")
            async with session.ws_connect(target["webSocketDebuggerUrl"], max_msg_size=0) as socket:
                page = Page(socket)
                for part in ("Page", "Network", "Runtime"):
                    await page.do(f"{part}.enable")
                yield page
                page.close()
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)  # its children hold the pipe too
        await process.wait()


async def _address(process: asyncio.subprocess.Process) -> str:
    assert process.stderr is not None
    async for line in process.stderr:
        if found := re.search(rb"ws://([\d.:]+)/", line):
            return f"http://{found[1].decode()}"
    raise AssertionError("the browser said nothing")
