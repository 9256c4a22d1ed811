"""Seats of the server: who sits where, and how many there are.

Law: a person is a cookie of a browser, with one process at a time and a folder of data.
"""

import secrets
from collections.abc import Awaitable, Callable
from pathlib import Path

Close = Callable[[], Awaitable[object]]
COOKIE = "seat"
_LETTERS = frozenset("0123456789abcdef")


class Seats:
    """Those that are taken."""

    def __init__(self, most: int, folder: Path) -> None:
        self.most, self._folder = most, folder
        self._taken: dict[str, Close] = {}

    @staticmethod
    def new() -> str:
        """A name for a person who has none yet."""
        return secrets.token_hex(16)

    @staticmethod
    def known(seat: str | None) -> str | None:
        """The name, if it is one that this gives out: it becomes the name of a folder."""
        return seat if seat and len(seat) == 32 and set(seat) <= _LETTERS else None

    def full_for(self, seat: str) -> bool:
        """Whether there is no room for this person."""
        return seat not in self._taken and len(self._taken) >= self.most

    async def take(self, seat: str, close: Close) -> None:
        """Take a seat; who sat there before under the same name is sent away."""
        before = self._taken.get(seat)
        self._taken[seat] = close
        if before is not None:
            await before()

    def leave(self, seat: str, close: Close) -> None:
        """Leave a seat, if it was not taken over meanwhile."""
        if self._taken.get(seat) is close:
            del self._taken[seat]

    async def empty(self) -> None:
        """Send everybody away."""
        for close in tuple(self._taken.values()):
            await close()

    def folder(self, seat: str) -> Path:
        """Where this person's data lies."""
        return self._folder / seat
