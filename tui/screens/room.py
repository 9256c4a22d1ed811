"""What every full screen of the program has: a table of acts, help and a last line made from it."""

from collections.abc import Callable
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from farend_sim.cautions import FIRST
from tui.help_text import keys_help
from tui.keymap import Act, Group, acts_in, bindings
from tui.panels.hints import Hints

WIDTHS = [(0, "-narrow"), (96, "-middling"), (130, "-wide")]
HEIGHTS = [(0, "-low"), (28, "-middle"), (40, "-tall")]
"""From how many columns and lines the style sheet's names hold."""
_AHEAD = {"help", "palette", "back"}
"""What a narrow last line must show: the way to the rest, and the way back."""


class Room(Screen[None]):
    """One room, a class with `groups=` its table; what the app cannot do, it does itself."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    groups: ClassVar[tuple[Group, ...]] = ()

    def __init_subclass__(cls, groups: tuple[Group, ...] = (), **more: Any) -> None:
        cls.groups, cls.BINDINGS = groups, bindings(groups)
        super().__init_subclass__(**more)

    def acts(self) -> dict[str, Callable[[], Any]]:
        """What this room does itself, by the name of the act."""
        return {
            "page_up": lambda: self.query(".scrolls").first().scroll_page_up(animate=False),
            "page_down": lambda: self.query(".scrolls").first().scroll_page_down(animate=False),
        }

    def foot(self, *acts: Act) -> ComposeResult:
        """The caution, and acts as buttons: all of the table if none are named."""
        yield Static(FIRST, id="caution", markup=False)
        yield Hints(acts or sorted(acts_in(self.groups), key=lambda act: act.name not in _AHEAD))

    def help(self) -> Content:
        """The help screen's text."""
        return keys_help(self.groups)
