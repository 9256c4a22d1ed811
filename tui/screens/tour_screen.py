"""The tour of a minute: a few pages, shown once, skipped with one key."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from tui.screens.once import Once

PAGES = (
    (
        "What this is",
        "You look after copper pairs and work alone. A unit sits on the far end of the pair; by "
        "keypad tones over the pair itself you have it strap the pair, ground a leg, open it or "
        "sound a tone, for a timed hold, while you read a meter at the near end.\n\n"
        "This is a simulator. No reading here proves a real pair safe; local codes and licensed "
        "practice come first.",
    ),
    (
        "First volts",
        "Presume a pair live until it is measured. m chooses a meter, t the two terminals, r reads "
        "and w writes the reading into the logbook. AC and DC volts on all three pairs of "
        "terminals come before any ohms.",
    ),
    (
        "Then the knock",
        "Take the meter off: it would weaken your keys. #* and the unit's number is the knock; "
        "listen for the answer. Then a code from the card, such as 18* for the strap. The unit "
        "sounds 'accepted' before its contacts move, and sounds again when the hold is over.",
    ),
    (
        "While it is strapped",
        "the unit is deaf: its receiver is shorted out, and only its timer ends the hold. Read "
        "before it does; a reading that the hold's end caught is worth nothing.",
    ),
    (
        "Where things are",
        "? tells every key, ^p finds an act by a word of it, and every key has a button for the "
        "mouse. space lets time stand, + hurries it. What you write down is on disk at once.",
    ),
)


class TourScreen(Once[None]):
    """Enter goes on, Escape skips the rest."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space,right", "go(1)", "on", show=False),
        Binding("left,backspace", "go(-1)", "back", show=False),
        Binding("escape,q", "dismiss(None)", "skip", show=False),
        Binding("question_mark", "app.act('help')", "help", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._at = 0
        self._text = Static(markup=False)
        self._box = Vertical(self._text, classes="tour")

    def compose(self) -> ComposeResult:
        yield self._box

    def on_mount(self) -> None:
        self._show()

    def action_go(self, by: int) -> None:
        """A page on, or back; past the last one it is over."""
        self._at = max(0, min(len(PAGES), self._at + by))
        if self._at == len(PAGES):
            self.dismiss(None)
        else:
            self._show()

    def on_click(self) -> None:
        self.action_go(1)

    def _show(self) -> None:
        title, text = PAGES[self._at]
        self._box.border_title = title
        self._box.border_subtitle = f"{self._at + 1} of {len(PAGES)}; Enter goes on, Escape skips"
        self._text.update(text)
