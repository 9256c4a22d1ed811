"""The logbook: entries newest first, and a line to type a note in."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Input, Static

from tui.panels.act_button import ActButton
from tui.panels.asked import NoteTyped
from tui.views.view import EntryView


class NoteLine(Input):
    """The line; Escape goes back to the bench and keeps what was typed."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave_line", "back", show=False)]

    def action_leave_line(self) -> None:
        self.screen.set_focus(None)


class Logbook(Vertical):
    """A list above a line."""

    entries: reactive[tuple[EntryView, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Logbook"
        self._list = Static()
        self._line = NoteLine(placeholder="n: a note; Enter writes it", compact=True)

    def compose(self) -> ComposeResult:
        with Horizontal(classes="acts"):
            yield ActButton("write")
            yield ActButton("note")
        yield VerticalScroll(self._list)
        yield self._line

    def watch_entries(self, entries: tuple[EntryView, ...]) -> None:
        if not entries:
            self._list.update(Content.styled("nothing written yet", "$muted"))
            return
        self._list.update(Content("\n").join([_lines(entry) for entry in entries]))

    def begin_note(self) -> None:
        """Let the person type."""
        self._line.focus()

    @property
    def draft(self) -> str:
        """What is typed and not written yet."""
        return self._line.value

    def clear_draft(self) -> None:
        """It is written."""
        self._line.value = ""
        self.screen.set_focus(None)

    @on(Input.Submitted)
    def _finish(self, event: Input.Submitted) -> None:
        event.stop()
        self.post_message(NoteTyped(event.value))


def _lines(entry: EntryView) -> Content:
    below = f"\n{'':8}{entry.below}" if entry.below else ""
    return Content.assemble((f"{entry.at:>7} ", "$muted"), entry.text, below)
