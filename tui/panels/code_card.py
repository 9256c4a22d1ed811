"""The card of the codes, as a technician carries it: commands, then what the unit sounds."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.card import Card, CardRow


class CodeCard(VerticalScroll):
    """Made once; the scheme does not change."""

    def __init__(self, card: Card) -> None:
        super().__init__(classes="panel")
        self.border_title = "Card of the codes"
        self._columns = tuple(_column(half) for half in halves(card.commands))
        self._replies = _column(card.replies)

    def compose(self) -> ComposeResult:
        for column in self._columns:
            yield Static(column, classes="column")
        yield Static(self._replies, classes="replies")


def halves(rows: tuple[CardRow, ...]) -> tuple[tuple[CardRow, ...], tuple[CardRow, ...]]:
    """The commands as two columns; holds spelt out are left to the help screen."""
    named = tuple(row for row in rows if row.does)
    middle = (len(named) + 1) // 2
    return named[:middle], named[middle:]


def _column(rows: tuple[CardRow, ...]) -> Content:
    width = max((len(row.keys) for row in rows), default=0)
    return Content("\n").join(
        [Content.assemble((f"{row.keys:<{width}}", "bold"), f" {row.does}") for row in rows]
    )
