"""What every full screen of the program has: a table of acts, and help made from it."""

from collections.abc import Callable
from typing import Any, ClassVar

from textual.content import Content
from textual.screen import Screen

from tui.help_text import keys_help
from tui.keymap import Group

WIDTHS = [(0, "-narrow"), (96, "-middling"), (130, "-wide")]
HEIGHTS = [(0, "-low"), (28, "-middle"), (40, "-tall")]
"""From how many columns and lines the style sheet's names hold."""


class Room(Screen[None]):
    """One room; what the app does not know how to do, it does itself."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    groups: ClassVar[tuple[Group, ...]] = ()

    def acts(self) -> dict[str, Callable[[], Any]]:
        """What this room does itself, by the name of the act."""
        return {
            "page_up": lambda: self.query(".scrolls").first().scroll_page_up(animate=False),
            "page_down": lambda: self.query(".scrolls").first().scroll_page_down(animate=False),
        }

    def help(self) -> Content:
        """The help screen's text."""
        return keys_help(self.groups)
