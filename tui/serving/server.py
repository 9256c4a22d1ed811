"""The server: its pages are behind a token, its websocket starts a person's process.

Law: everything that a browser needs comes from this machine. The library makes the terminal in the
browser; who may have one, and how many, is decided here.
"""

import asyncio
import hmac
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import aiohttp_jinja2
import jinja2
from aiohttp import web
from textual_serve.app_service import AppService
from textual_serve.server import Server, to_int

from tui.serving.seats import COOKIE, Seats

PAGES = Path(__file__).with_name("pages")
FULL = "All places are taken; try again later."
_YEAR_S = 365 * 24 * 3600
QUIT_S = 5.0
"""How long a process may take to end [s]. A choice, no source."""


class PersonsProcess(AppService):
    """A process with a person's own folder of data."""

    data: Path

    def _build_environment(self, width: int = 80, height: int = 24) -> dict[str, str]:
        environment: dict[str, str] = super()._build_environment(width, height)
        return environment | {"XDG_DATA_HOME": str(self.data)}

    async def stop(self) -> None:
        """Ask it to end, so that it writes what was typed; one that does not is ended."""
        try:
            await asyncio.wait_for(super().stop(), QUIT_S)
        except TimeoutError:
            if self._process is not None and self._process.returncode is None:
                self._process.kill()


class BenchServer(Server):
    """Pages behind a token."""

    def __init__(self, command: str, host: str, port: int, *, token: str, seats: Seats) -> None:
        super().__init__(command, host=host, port=port, title="Pair bench", templates_path=PAGES)
        self._token, self._seats = token, seats

    @property
    def address(self) -> str:
        """What to type into a browser."""
        host = f"[{self.host}]" if ":" in self.host else self.host
        return f"http://{host}:{self.port}/{self._token}/"

    def initialize_logging(self) -> None:
        """Nothing is logged: addresses hold the token."""

    async def on_startup(self, app: web.Application) -> None:
        """Whoever started the server has told the address already."""

    async def on_shutdown(self, app: web.Application) -> None:
        """Send everybody away."""
        await self._seats.empty()

    async def _make_app(self) -> web.Application:
        app = web.Application(middlewares=[self._guard])
        aiohttp_jinja2.setup(app, loader=jinja2.FileSystemLoader(PAGES), autoescape=True)
        app.add_routes(
            [
                web.get("/{token}/", self.handle_index),
                web.get("/{token}/ws", self.handle_websocket),
                web.get("/{token}/static/{file:.+}", self._static),
            ]
        )
        app.on_shutdown.append(self.on_shutdown)
        return app

    @web.middleware
    async def _guard(self, request: web.Request, handler: Any) -> web.StreamResponse:
        """Without the token there is nothing here; nor for a page of another place."""
        token = request.match_info.get("token", "")
        if not hmac.compare_digest(token.encode(), self._token.encode()):
            raise web.HTTPNotFound
        origin = request.headers.get("Origin")
        if origin is not None and origin.partition("://")[2] != request.host:
            raise web.HTTPForbidden
        response: web.StreamResponse = await handler(request)
        if not response.prepared:
            response.headers["Referrer-Policy"] = "no-referrer"
            response.headers["X-Content-Type-Options"] = "nosniff"
        return response

    async def _static(self, request: web.Request) -> web.FileResponse:
        file = (Path(self.statics_path) / request.match_info["file"]).resolve()
        if not file.is_relative_to(Path(self.statics_path).resolve()) or not file.is_file():
            raise web.HTTPNotFound
        return web.FileResponse(file)

    async def handle_index(self, request: web.Request) -> web.Response:
        """The page, and a seat for who has none."""
        seat = Seats.known(request.cookies.get(COOKIE)) or Seats.new()
        if self._seats.full_for(seat):
            return web.Response(status=503, text=FULL)
        page: Mapping[str, Any] = {
            "name": self.title,
            "socket": f"ws://{request.host}/{self._token}/ws",
            "size": max(8, min(40, to_int(request.query.get("size", "16"), 16))),
        }
        response = aiohttp_jinja2.render_template("app_index.html", request, page)
        path = f"/{self._token}/"
        response.set_cookie(
            COOKIE, seat, path=path, max_age=_YEAR_S, httponly=True, samesite="Strict"
        )
        return response

    async def handle_websocket(self, request: web.Request) -> web.WebSocketResponse:
        """A person's process, for as long as the socket is open."""
        seat = Seats.known(request.cookies.get(COOKIE))
        if seat is None or self._seats.full_for(seat):
            raise web.HTTPServiceUnavailable(text=FULL)
        socket = web.WebSocketResponse(heartbeat=15)
        await socket.prepare(request)
        close = socket.close
        await self._seats.take(seat, close)
        try:
            await self._serve(socket, request, self._seats.folder(seat))
        finally:
            self._seats.leave(seat, close)
        return socket

    async def _serve(self, socket: web.WebSocketResponse, request: web.Request, data: Path) -> None:
        async def close() -> None:
            await socket.close()

        process = PersonsProcess(
            self.command,
            write_bytes=socket.send_bytes,
            write_str=socket.send_str,
            close=close,
            download_manager=self.download_manager,
        )
        process.data = data
        size = (to_int(request.query.get(key, ""), 0) for key in ("width", "height"))
        width, height = size
        await process.start(max(20, min(500, width or 80)), max(10, min(200, height or 24)))
        try:
            await self._process_messages(socket, process)
        finally:
            await process.stop()
