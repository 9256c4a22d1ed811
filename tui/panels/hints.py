"""The last line of a screen: acts of its table as buttons, so that a mouse reaches them all."""

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.containers import Horizontal

from tui.keymap import Act
from tui.panels.act_button import ActButton


class Hints(Horizontal):
    """One line; what does not fit is in the palette, whose button is among the first."""

    def __init__(self, acts: Iterable[Act]) -> None:
        super().__init__(id="hints")
        self._acts = tuple(acts)

    def compose(self) -> ComposeResult:
        for act in self._acts:
            yield ActButton(act, compact=True)
