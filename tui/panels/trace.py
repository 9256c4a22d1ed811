"""The sound at the near end's ear as a moving trace, newest at the right."""

from textual.reactive import reactive
from textual.widget import Widget

from tui.views.sound_trace import drawn

LOW_DBM, HIGH_DBM = -60.0, 6.0
"""The foot and the top of the trace: from under what an ear hears to a keypad close by."""


class Trace(Widget):
    """As many moments as fit."""

    view: reactive[tuple[float, ...]] = reactive(())

    def render(self) -> str:
        return "\n".join(drawn(self.view, self.size.width, self.size.height, LOW_DBM, HIGH_DBM))
