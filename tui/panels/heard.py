"""What is heard at the near end: the trace, and the sounds in words, newest first."""

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.panels.trace import Trace
from tui.views.view import SoundView


class Heard(Vertical):
    """A trace above a list."""

    sounds: reactive[tuple[SoundView, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Heard on the pair"
        self.trace = Trace()
        self._list = Static()

    def compose(self) -> ComposeResult:
        yield self.trace
        yield VerticalScroll(self._list)

    def watch_sounds(self, sounds: tuple[SoundView, ...]) -> None:
        if not sounds:
            self._list.update(Content.styled("nothing yet", "$muted"))
            return
        self._list.update(Content("\n").join([_lines(sound) for sound in sounds]))


def _lines(sound: SoundView) -> Content:
    """Two lines: when, what, its rise and fall; then the pattern in words."""
    return Content.assemble(
        (f"{sound.at:>7} ", "$muted"),
        (sound.what, "bold"),
        f" {sound.picture} " if sound.picture else " ",
        (sound.level, "$muted"),
        f"\n{sound.pattern}",
    )
