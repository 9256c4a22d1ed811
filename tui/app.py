"""The full screen: which room is open, one timer, and what every room has in common.

Law 1: one timer. It asks the pace how much time has passed and lets the bench have it.
Law 2: what is asked comes by the name of its act; a bench's acts are the bench's to do.
"""

import asyncio
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from textual import on

from farend_sim.errors import BadFileError
from tui.acting import ActingApp
from tui.at_bench import AtBench
from tui.new_drills import MAKING, make
from tui.opening import (
    BENCHES,
    file_item,
    free_sitting,
    heed_hang_ups,
    screen_of,
    sitting_of,
)
from tui.pace import Pace
from tui.palette import Offer
from tui.panels.asked import KeyPressed, NoteTyped, SchemePlayed
from tui.person.data_folder import shown_before
from tui.person.sitting import Sitting
from tui.rooms import Item, RoomView, rooms
from tui.school import School
from tui.screens.help_screen import HelpScreen
from tui.screens.home_screen import HomeScreen
from tui.screens.line_asked import LineAsked
from tui.screens.tour_screen import TourScreen
from tui.script import Script

NAME = "Pair bench"
TICK_S = 1 / 25
"""From picture to picture [s]. A choice, no source."""


class PairBench(ActingApp):
    """Home and its rooms; or, given a sitting, one bench and nothing else."""

    TITLE = NAME
    CSS_PATH = "app.tcss"

    def __init__(
        self,
        sitting: Sitting | None,
        pace: Pace,
        *,
        feet: bool = False,
        trainers: bool = False,
        light: bool = False,
        logbook: Path | None = None,
        school: School | None = None,
    ) -> None:
        super().__init__(light=light)
        self._pace, self._feet, self._trainers, self._logbook = pace, feet, trainers, logbook
        self.at: AtBench | None = None
        self._first = sitting
        self._school = school or School()
        self._sat: list[Sitting] = []

    def on_mount(self) -> None:
        if self._first is None:
            self.push_screen(HomeScreen(NAME, self._rooms))
            if self._school.asks and not self._trainers:
                self._ask_name()
            if not shown_before("tour"):
                self.push_screen(TourScreen())
        else:
            self.sit_down(self._first)
        self.set_interval(TICK_S, self.tick)
        if not self.is_headless:
            heed_hang_ups(self._hung_up)

    def _rooms(self) -> tuple[RoomView, ...]:
        """What home lists now, for who works here."""
        of_class = self._school.class_file if self._trainers else None
        return rooms(of_class, titles=self._trainers, trainee=self._school.trainee)

    @property
    def written(self) -> dict[Path, int]:
        """How many entries went into which logbook."""
        written = Counter[Path]()
        for sitting in self._sat:
            written[sitting.logbook.path] += sitting.logbook.written
        return written

    def _ask_name(self) -> None:
        def named(name: str | None) -> None:
            self._school.trainee = name or None

        self.push_screen(LineAsked("Your name, as the class book has it?"), named)

    def _hung_up(self) -> None:
        self._stand_up()
        self.exit()

    # -- a bench -------------------------------------------------------------------------------

    def sit_down(self, sitting: Sitting, title: str = "") -> None:
        """Open a bench, under another title than the scenario's if there is one."""
        self._sat.append(sitting)
        sitting.feet = self._feet
        self.at = AtBench(
            self,
            sitting,
            self._pace,
            name=NAME,
            trainers=self._trainers,
            title="" if self._trainers else title,
        )
        self.at.drill.handed_in = self._school.enter
        self._pace.paused = False
        self.push_screen(self.at.screen)

    def tick(self) -> None:
        """Let the bench have the time that has passed."""
        by_us = self._pace.take_us()
        if self.at is not None:
            self.at.advance(by_us)

    def advance(self, by_us: int) -> None:
        """Let time pass at the bench, and show what came of it."""
        assert self.at is not None
        self.at.advance(by_us)

    def refresh_views(self) -> None:
        """Put the picture of now on the screen."""
        if self.at is not None:
            self.at.refresh()

    @on(KeyPressed)
    def _press(self, message: KeyPressed) -> None:
        if self.at is not None:
            self.at.press(message.key)

    @on(NoteTyped)
    def _note(self, message: NoteTyped) -> None:
        if self.at is not None:
            self.at.note(message.text)

    # -- what was asked ------------------------------------------------------------------------

    def more_acts(self) -> dict[str, Callable[[], Any]]:
        """What is done at a bench, and the way out."""
        acts: dict[str, Callable[[], Any]] = {"leave": self._leave}
        if self.at is not None:
            acts |= self.at.acts()
            if self.front is not self.at.screen:
                del acts["help"]  # the bench's; the screen in front has its own
        return acts

    def offers(self) -> Iterator[Offer]:
        """What the palette finds now: at home all that can be opened, too."""
        yield from super().offers()
        if isinstance(self.front, HomeScreen):
            for item in self.front.items():
                yield item.title, item.about, partial(self.open_item, item)

    def _leave(self) -> None:
        """From a bench to where it was opened from, from home out."""
        at_bench = self.at is not None
        if self._stand_up():
            if at_bench and self._first is None:
                self.pop_screen()
            else:
                self.exit()

    def _stand_up(self) -> bool:
        """Leave the bench, if there is one; what was typed is written first, or nobody leaves."""
        if self.at is not None:
            if not self.at.leave():
                return False
            self.at.drill.close()
            self.at = None
        return True

    async def action_quit(self) -> None:
        """The library's own way out leads past the logbook too."""
        if self._stand_up():
            self.exit()

    def on_unmount(self) -> None:
        """Whatever ended it, what was typed is written."""
        self._stand_up()

    # -- the rooms -----------------------------------------------------------------------------

    @on(HomeScreen.Opened)
    def _opened(self, message: HomeScreen.Opened) -> None:
        self.open_item(message.item)

    def open_item(self, item: Item) -> None:
        """Open what home lists; what is wrong with a file is told, and home stays."""
        try:
            if item.kind == "file":
                self.push_screen(LineAsked("Which scenario file?"), self._open_file)
            elif item.kind == "new":
                self.run_worker(self._make(item), exclusive=True)
            elif item.kind in BENCHES:
                title = item.title if item.kind == "scenario" else ""
                self.sit_down(sitting_of(item, self._school.trainee, self._logbook), title)
            else:
                self.push_screen(screen_of(item))
        except BadFileError as error:
            self.push_screen(HelpScreen(str(error), "This cannot be opened"))
            return
        if item.kind == "drill":
            self.action_act("ticket")

    async def _make(self, item: Item) -> None:
        """Make a drill while a word says so, and open it, unless somebody would not wait."""
        waits = HelpScreen(MAKING, item.title)
        self.push_screen(waits)
        try:
            path = await asyncio.to_thread(make, int(item.name))
        except BadFileError as error:
            self.push_screen(HelpScreen(str(error), "No drill was made"))
            return
        if self.screen is waits:
            self.pop_screen()
            self.open_item(replace(item, kind="drill", name=str(path)))

    def _open_file(self, typed: str | None) -> None:
        if typed:
            self.open_item(file_item(typed))

    @on(SchemePlayed)
    def _play(self, message: SchemePlayed) -> None:
        """A finding's keys on a bench of its own, the trainer's panel open."""
        self.sit_down(free_sitting(message.situation, self._logbook))
        assert self.at is not None
        self.at.trainers = True
        self.at.script = Script(message.keyed, message.what)
