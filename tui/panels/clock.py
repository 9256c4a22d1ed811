"""The first line: what this is, the bench's time and how fast it passes."""

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.panels.act_button import ActButton
from tui.views.view import ClockView


class Clock(Horizontal):
    """One line."""

    view: reactive[ClockView | None] = reactive(None)

    def __init__(self, name: str, title: str) -> None:
        super().__init__()
        self._title = Static(
            Content.assemble((f" {name} ", "bold"), ("| ", "$muted"), title), classes="name"
        )
        self._time = Static(classes="time")

    def compose(self) -> ComposeResult:
        yield self._title
        with Horizontal(classes="pace"):
            yield ActButton("slower")
            yield ActButton("pause")
            yield ActButton("faster")
        yield self._time

    def watch_view(self, view: ClockView | None) -> None:
        if view is not None:
            self._time.update(Content.assemble((view.time, "bold"), f"  {view.pace} "))
