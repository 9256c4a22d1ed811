"""A button for an act: its key and its word; a click asks for it."""

from textual.content import Content
from textual.widgets import Static

from tui.keymap import ACTS, Act
from tui.panels.asked import Asked


class ActButton(Static):
    """One line, never focused: the keyboard has a key for it."""

    def __init__(self, act: Act | str, *, compact: bool = False) -> None:
        act = ACTS[act] if isinstance(act, str) else act
        self.act = act.name
        mark = act.mark if compact else f" {act.mark} "
        label = Content.assemble((mark, "bold $accent"), f" {act.label}")
        super().__init__(label)
        self.tooltip = act.about

    def on_click(self) -> None:
        self.post_message(Asked(self.act))
