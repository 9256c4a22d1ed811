"""The line that answers: what came of the last thing that was asked."""

from textual.reactive import reactive
from textual.widget import Widget


class Said(Widget):
    """One line, drawn anew only when it changes."""

    view: reactive[str] = reactive("")

    def render(self) -> str:
        return self.view.replace("[", r"\[")
