"""What both labs on the screen share: work in a thread of its own, and what is shown meanwhile."""

import asyncio
from collections.abc import Callable
from typing import Generic, TypeVar

from textual.worker import get_current_worker

from farend_sim.errors import BadFileError
from line_model.errors import LineError
from tui.screens.room import Room

Result = TypeVar("Result")
STEP_S = 0.5
"""How often the time that work has taken so far is told anew [s]."""


class Lab(Room, Generic[Result]):
    """A room in which something takes a while. What it shows is each room's own to say.

    (The library's metaclass leaves no room for abstract methods, so these two say it themselves.)
    """

    def told(self, words: str) -> None:
        """Show in words how far it is."""
        raise NotImplementedError

    def done(self, result: Result) -> None:
        """Show what came of it."""
        raise NotImplementedError

    def begin(self, what: str, work: Callable[[], Result]) -> None:
        """Do work in a thread, and show what comes of it; what ran before is let go."""
        self.run_worker(self._work(what, work), exclusive=True)

    async def _work(self, what: str, work: Callable[[], Result]) -> None:
        task = asyncio.get_running_loop().run_in_executor(None, work)
        worker, waited_s = get_current_worker(), 0.0
        while not task.done():
            self.told(f"{what} ... {waited_s:.0f} s")
            await asyncio.wait([task], timeout=STEP_S)
            waited_s += STEP_S
        if worker.is_cancelled:
            return
        try:
            self.done(task.result())
        except (BadFileError, LineError) as error:
            self.told(str(error))
