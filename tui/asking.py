"""Questions, texts and rooms put in front of a bench; what was answered goes to who asked."""

from collections.abc import Callable

from textual.app import App

from tui.questions import Answers
from tui.screens.chooser import Chooser
from tui.screens.help_screen import HelpScreen
from tui.screens.line_asked import LineAsked
from tui.screens.once import Once
from tui.screens.room import Room

Do = Callable[[str], object]


class Asking:
    """What can be put in front; an answer that changes something is seen at once."""

    def __init__(self, app: App[None], refresh: Callable[[], object]) -> None:
        self._app, self._refresh = app, refresh

    def choice(self, question: str, answers: Answers, do: Do) -> None:
        """Ask which of a few, and do something with it; the empty one is an answer too."""
        self._ask(Chooser(question, answers), lambda answer: answer is not None, do)

    def line(self, question: str, do: Do, value: str = "", hint: str = "") -> None:
        """Ask for a line, and do something with it if there is one."""
        self._ask(LineAsked(question, hint, value), bool, do)

    def part(self, question: str, do: Do, value: str = "", hint: str = "") -> None:
        """Ask for a line that may stay empty."""
        self._ask(LineAsked(question, hint, value), lambda answer: answer is not None, do)

    def text(self, text: str, title: str) -> None:
        """Show a text to scroll."""
        self._app.push_screen(HelpScreen(text, title))

    def room(self, room: Room) -> None:
        """Open a room; its own key leads back."""
        self._app.push_screen(room)

    def _ask(
        self, screen: Once[str | None], is_answer: Callable[[str | None], bool], do: Do
    ) -> None:
        def answered(answer: str | None) -> None:
            if answer is not None and is_answer(answer):
                do(answer)
                self._refresh()

        self._app.push_screen(screen, answered)
