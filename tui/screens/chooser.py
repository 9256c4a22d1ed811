"""A question with a few answers: each has a key of its own, and Escape answers nothing."""

from collections.abc import Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.screens.once import Once


class Chooser(Once[str | None]):
    """Time goes on behind it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "dismiss(None)", "back", show=False)
    ]

    def __init__(self, question: str, answers: Sequence[tuple[str, str]]) -> None:
        """Ask.

        Args:
            question: a few words.
            answers: what is returned, and how it reads; the keys are 1, 2, 3 and so on.
        """
        super().__init__()
        self._question = question
        self._answers = tuple(answers)

    def compose(self) -> ComposeResult:
        with Vertical(id="chooser"):
            yield Static(self._question, classes="question", markup=False)
            yield OptionList(
                *(Option(f"{_key(at)}  {words}") for at, (_, words) in enumerate(self._answers, 1)),
                markup=False,
            )
            yield Static("a number, or Enter; Escape: leave it", classes="hint", markup=False)

    def on_key(self, event: events.Key) -> None:
        character = event.character or ""
        if character.isdecimal() and 1 <= int(character) <= min(9, len(self._answers)):
            event.stop()
            self.dismiss(self._answers[int(character) - 1][0])

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self._answers[event.option_index][0])


def _key(at: int) -> str:
    """The digit that chooses an answer; those after the ninth have none."""
    return str(at) if at < 10 else " "
