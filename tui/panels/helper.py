"""The helper at the far end: how the unit was left, and a button to ask for an act."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.panels.act_button import ActButton
from tui.views.view import HelperView


class HelperPanel(Vertical):
    """What was asked for, never what the unit makes of it."""

    view: reactive[HelperView | None] = reactive(None)

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Helper at the far end"
        self._text = Static()

    def compose(self) -> ComposeResult:
        yield self._text
        yield ActButton("helper")

    def watch_view(self, view: HelperView | None) -> None:
        if view is None:
            return
        muted = "$muted"
        self._text.update(
            Content.assemble(
                ("clips ", muted),
                view.clips,
                "\n",
                ("ground lead ", muted),
                view.ground,
                (", battery ", muted),
                view.battery,
            )
        )
