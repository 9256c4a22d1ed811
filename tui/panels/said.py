"""The line that answers: what came of the last thing that was asked."""

from textual.reactive import reactive
from textual.widget import Widget


class Said(Widget):
    """A line, or two where there is more to say; drawn anew only when it changes."""

    view: reactive[str] = reactive("", layout=True)

    def render(self) -> str:
        return self.view.replace("[", r"\[")
