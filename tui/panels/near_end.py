"""What is joined at the near end beside meter and keypad: a clip lead, and what is behind."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.panels.act_button import ActButton
from tui.views.view import NearView


class NearEnd(Vertical):
    """Two lines or three, and buttons for what there is."""

    view: reactive[NearView | None] = reactive(None)

    def __init__(self) -> None:
        super().__init__(classes="panel")
        self.border_title = "Near end"
        self._text = Static()
        self._lift = ActButton("lift")
        self._place, self._block = ActButton("place"), ActButton("block")

    def compose(self) -> ComposeResult:
        yield self._text
        yield ActButton("lead")
        yield self._lift
        yield self._place
        yield self._block

    def watch_view(self, view: NearView | None) -> None:
        if view is not None:
            self._lift.display = view.can_lift
            self._place.display, self._block.display = view.has_places, view.has_block
            self._text.update(
                Content.assemble(
                    *((("at ", "$muted"), view.here, "\n") if view.here else ()),
                    ("lead   ", "$muted"),
                    view.lead,
                    "\n",
                    ("behind ", "$muted"),
                    view.behind,
                )
            )
