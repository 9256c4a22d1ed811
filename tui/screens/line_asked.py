"""A question whose answer is typed on a line; Escape answers nothing."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from tui.screens.once import Once


class LineAsked(Once[str | None]):
    """Time goes on behind it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", "back", show=False)]

    def __init__(self, question: str, hint: str = "", value: str = "") -> None:
        super().__init__()
        self._question, self._hint, self._value = question, hint, value

    def compose(self) -> ComposeResult:
        with Vertical(classes="asked"):
            yield Static(self._question, classes="question", markup=False)
            yield Input(self._value, compact=True, select_on_focus=False)
            yield Static(f"{self._hint}Enter; Escape: leave it", classes="hint", markup=False)

    @on(Input.Submitted)
    def _finish(self, event: Input.Submitted) -> None:
        event.stop()
        self.dismiss(event.value.strip())
