"""The card of the codes at the bench: what to key for what, and how the unit's replies look."""

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from farend_sim.control.replies import pattern
from farend_sim.scheme_lab.export.card import keys_of
from farend_sim.unit.codes import compiled
from farend_sim.unit.scheme import Scheme
from tui.views.view import picture

_OWN = {
    "knock": "answers the knock",
    "refused": "refuses",
    "over": "a hold is over",
    "awake": "its button was pressed",
}
Rows = list[tuple[str, str]]


class CodeCard(VerticalScroll):
    """Made once; the scheme does not change."""

    def __init__(self, scheme: Scheme) -> None:
        super().__init__(classes="panel")
        self.border_title = "Card of the codes"
        rows = commands(scheme)
        middle = (len(rows) + 1) // 2
        self._columns = _column(rows[:middle]), _column(rows[middle:])
        self._replies = _column(replies(scheme))

    def compose(self) -> ComposeResult:
        for column in self._columns:
            yield Static(column, classes="column")
        yield Static(self._replies, classes="replies")


def commands(scheme: Scheme) -> Rows:
    """The keys of the knock and of each command, and what they are for."""
    code = compiled(scheme)
    told = [(keys_of(code, each), str(each.input.value)) for each in code.commands]
    return [(code.knock, "knock"), *told]


def replies(scheme: Scheme) -> Rows:
    """How each reply will look in the list of what is heard, and what it says."""
    return [
        (picture(pattern(voice), scheme.middle_hz), _OWN.get(name, name.replace("-", " ")))
        for name, voice in compiled(scheme).replies.items()
    ]


def _column(rows: Rows) -> Content:
    width = max((len(keys) for keys, _ in rows), default=0)
    return Content("\n").join(
        [Content.assemble((f"{keys:<{width}}", "bold"), f" {does}") for keys, does in rows]
    )
