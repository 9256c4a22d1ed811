"""The trainer's panel: the far end's inside, marked so that nobody takes it for the near end's."""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

from tui.views.view_far import FarView


class Trainer(Vertical):
    """The unit at the left, its receiver at the right, the receiver's verdict below."""

    view: reactive[FarView | None] = reactive(None)

    def __init__(self) -> None:
        super().__init__()
        self.border_title = "TRAINER: inside the far end, where no technician can look"
        self._unit = Static(classes="inside")
        self._bars = (Static(classes="bars"), Static(classes="bars"))
        self._words = (Static(classes="level"), Static(classes="level"))
        self._verdict = Static(classes="verdict", markup=False)

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield self._unit
            for bars, words in zip(self._bars, self._words, strict=True):
                yield words
                yield bars
        yield self._verdict

    def watch_view(self, view: FarView | None) -> None:
        self.display = view is not None
        if view is None:
            return
        self._unit.update(unit(view))
        for at, levels in enumerate((view.low, view.high)):
            self._bars[at].update(levels.bars)
            self._words[at].update(levels.words)
        self._verdict.update(f"{view.scale}; {view.verdict}")


def unit(far: FarView, *, power: bool = False) -> Content:
    """The unit's inside, a line each; its power where there is room for it."""
    rows = (
        ("state     ", far.state),
        ("closed    ", far.closed),
        ("hold      ", far.deadline),
        ("waits for ", far.waits),
        ("keys kept ", far.keyed),
        *([("power     ", far.power)] if power else ()),
    )
    lines = [Content.assemble((name, "$muted"), (text, "bold")) for name, text in rows]
    return Content("\n").join(lines)
