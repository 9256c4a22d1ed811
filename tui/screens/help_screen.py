"""The help screen: one long text to scroll."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.screens.once import Once


class HelpScreen(Once[None]):
    """Time goes on behind it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark", "dismiss(None)", "back", show=False)
    ]

    def __init__(self, text: Content | str, title: str = "Help") -> None:
        super().__init__()
        self._text, self._title = text, title

    def compose(self) -> ComposeResult:
        with VerticalScroll(id="help") as scroll:
            scroll.border_title = self._title
            scroll.border_subtitle = "arrows scroll; Escape goes back"
            yield Static(self._text, markup=False)
