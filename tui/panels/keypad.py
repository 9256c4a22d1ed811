"""The pair's keypad: twelve keys, the one that sounds marked, and what was keyed."""

from textual.app import ComposeResult
from textual.containers import Grid, Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.keymap import KEYPAD
from tui.panels.asked import KeyPressed
from tui.views.view import KeypadView


class Key(Static):
    """One key."""

    def __init__(self, key: str) -> None:
        super().__init__(key, classes="key", markup=False)
        self.key = key

    def sounds(self, on: bool) -> None:
        """Mark it while it sounds."""
        self.set_class(on, "sounding")
        self.update(f"[{self.key}]" if on else self.key)

    def on_click(self) -> None:
        self.post_message(KeyPressed(self.key))


class Keypad(Vertical):
    """Twelve keys and two lines."""

    view: reactive[KeypadView | None] = reactive(None)

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Keypad"
        self._keys = {key: Key(key) for key in KEYPAD}
        self._sent = Static(classes="sent")
        self._waiting = Static(classes="sent")

    def compose(self) -> ComposeResult:
        yield Grid(*self._keys.values(), classes="keys")
        yield self._sent
        yield self._waiting

    def watch_view(self, old: KeypadView | None, new: KeypadView | None) -> None:
        if new is None:
            return
        before = old.key if old else None
        if before != new.key:
            for key in (before, new.key):
                if key in self._keys:
                    self._keys[key].sounds(key == new.key)
        self._sent.update(Content.assemble(("keyed ", "$muted"), (new.sent, "bold")))
        self._waiting.update(Content.assemble(("waits ", "$muted"), new.waiting))
