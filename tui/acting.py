"""An app in which all that can be asked for is an act of a table, by key, button or palette.

Law: the room in front does its own acts; what every room has in common is done here.
"""

from collections.abc import Callable, Iterator
from typing import Any, ClassVar, cast

from textual import events, on
from textual.app import App
from textual.command import CommandPalette, Provider
from textual.screen import Screen

from tui.keymap import acts_in
from tui.palette import Acts, Offer, acts_of
from tui.panels.asked import Asked
from tui.screens.help_screen import HelpScreen
from tui.screens.room import Room
from tui.screens.tour_screen import TourScreen
from tui.themes import DARK, LIGHT

Do = Callable[[], Any]


class ActingApp(App[None]):
    """What to do with an act; what a bench does, the app over it says."""

    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {Acts}

    def __init__(self, *, light: bool) -> None:
        super().__init__()
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        self.theme = LIGHT.name if light else DARK.name

    async def on_event(self, event: events.Event) -> None:
        """Keys that come once the last screen has gone reach nothing."""
        if self.screen_stack or not isinstance(event, events.Key):
            await super().on_event(event)

    @on(Asked)
    def _asked(self, message: Asked) -> None:
        self.action_act(message.act)

    def action_act(self, name: str) -> None:
        """Do what was asked by a key or a button: a room's own act goes before a common one.

        What was asked of a room that has been left meanwhile is not done.
        """
        room = self.front
        if isinstance(room, Room) and name in {act.name for act in acts_in(room.groups)}:
            acts = self._common() | self.more_acts() | room.acts()
            if name in acts:  # a bench that is left has none, though it is in front until the end
                acts[name]()
        self.refresh_views()

    def more_acts(self) -> dict[str, Do]:
        """What can be done besides."""
        return {}

    def refresh_views(self) -> None:
        """Put the picture of now on the screen."""

    def _common(self) -> dict[str, Do]:
        return {
            "help": self._help,
            "light": self._turn_light,
            "palette": self.action_command_palette,
            "tour": lambda: self.push_screen(TourScreen()),
            "back": self.pop_screen,
        }

    @property
    def front(self) -> Screen[Any]:
        """The screen in front, questions and help not counted."""
        return next(each for each in reversed(self.screen_stack) if not each.is_modal)

    def offers(self) -> Iterator[Offer]:
        """What the palette finds now."""
        if isinstance(self.front, Room):
            yield from acts_of(self.front.groups, self.action_act)

    def action_command_palette(self) -> None:
        """The library's palette over our own acts, in our own words."""
        if not CommandPalette.is_open(cast("App[object]", self)):
            self.push_screen(CommandPalette(placeholder="a word of what you want to do"))

    def _help(self) -> None:
        if isinstance(self.front, Room):
            self.push_screen(HelpScreen(self.front.help()))

    def _turn_light(self) -> None:
        self.theme = DARK.name if self.theme == LIGHT.name else LIGHT.name
