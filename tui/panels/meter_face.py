"""The meter's face: where it is clipped, its display, how far its cycle is."""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Digits, Static

from tui.panels.act_button import ActButton
from tui.views.view_meter import MeterView


class MeterFace(Vertical):
    """A display with a line above and three below."""

    view: reactive[MeterView | None] = reactive(None)

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Meter"
        self._title = Static(classes="title")
        self._big = Digits(classes="big")
        self._unit = Static(classes="unit")
        self._words = Static(classes="words", markup=False)
        self._stage = Static(classes="stage")
        self._below = Static(classes="below")

    def compose(self) -> ComposeResult:
        yield self._title
        with Horizontal(classes="display"):
            yield self._big
            yield self._unit
            yield self._words
        yield self._stage
        yield self._below
        with Horizontal(classes="acts"):
            yield ActButton("meter")
            yield ActButton("across")
        with Horizontal(classes="acts"):
            yield ActButton("read")
            yield ActButton("zero")
            yield ActButton("length")

    def watch_view(self, view: MeterView | None) -> None:
        if view is None:
            return
        word = "" if "=" in view.across else "across "
        across = f"  {word}{view.across}" if view.across else ""
        self._title.update(Content.assemble((view.title, "bold"), across))
        self._big.display = self._unit.display = bool(view.big)
        self._words.display = not view.big
        self._big.update(view.big)
        self._unit.update(view.unit)
        unit = f" {view.unit}" if view.unit and not view.big else ""
        self._words.update(view.words + unit)
        self._stage.update(Content.assemble((view.bar, "$accent"), "\n", view.stage))
        told = Content.assemble((view.loop, "bold"), "  ", (view.read, "$muted"))
        self._below.update(told if view.read or not view.caution else view.caution)
