"""What home lists, opened: a person at a bench, or a screen. What is shown when is the app's."""

import asyncio
import os
import signal
from collections.abc import Callable
from pathlib import Path
from threading import Timer

from textual.screen import Screen

from farend_sim.files import load_situation
from farend_sim.situation import Situation
from tui.person.attempt_files import attempt_at
from tui.person.logbook_file import LogbookFile, default_path
from tui.person.sitting import Sitting
from tui.rooms import Item
from tui.school import told_of_class
from tui.screens.help_screen import HelpScreen

BENCHES = ("scenario", "drill")
"""Kinds of items at which a person sits down."""
GONE_S = 3.0
"""How long leaving may take once the window is gone [s]. Invented here."""


def sitting_of(item: Item, trainee: str | None, logbook: Path | None) -> Sitting:
    """A person at a scenario, or at a drill, where one that was not handed in goes on.

    Raises:
        BadFileError: a file has faults, or the attempt is open elsewhere.
    """
    if item.kind == "scenario":
        return free_sitting(load_situation(item.name), logbook)
    attempt = attempt_at(item.name, trainee)
    book = LogbookFile(logbook or default_path(attempt.drill.name))
    return Sitting(attempt.drill.situation, book, attempt)


def free_sitting(situation: Situation, logbook: Path | None) -> Sitting:
    """A person at a bench of their own."""
    return Sitting(situation, LogbookFile(logbook or default_path(situation.path.stem)))


def file_item(typed: str) -> Item:
    """The scenario file that a person has typed: a bare word is a file of theirs, too."""
    name = typed if "/" in typed or typed.endswith(".toml") else f"./{typed}"
    return Item("scenario", name, name)


def screen_of(item: Item) -> Screen[None]:
    """What opens an item that is no bench; labs are loaded when they are entered."""
    if item.kind == "class":
        return HelpScreen(told_of_class(Path(item.name)), item.title)
    if item.kind == "scheme":
        from tui.screens.scheme_lab import SchemeLab

        return SchemeLab(item.name)
    from tui.screens.hold_lab import HoldLab

    return HoldLab(item.kind, item.name)


def heed_hang_ups(leave: Callable[[], object]) -> None:
    """A window that is closed, or an end from outside, leads past the logbook too."""

    def hung_up() -> None:
        # the library waits for the window to take its last picture, and it is gone: so not for ever
        last = Timer(GONE_S, os._exit, (128 + signal.SIGHUP,))
        last.daemon = True
        last.start()
        leave()

    if hasattr(signal, "SIGHUP"):
        loop = asyncio.get_running_loop()
        loop.add_signal_handler(signal.SIGHUP, hung_up)
        loop.add_signal_handler(signal.SIGTERM, leave)
