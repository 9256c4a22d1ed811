"""The trainer's screen: the line as it is, the unit's inside, what can be put in or taken out."""

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.keymap import INSIDE
from tui.panels.asked import Asked
from tui.panels.clock import Clock
from tui.panels.said import Said
from tui.panels.trainer import unit
from tui.screens.room import Room
from tui.views.frame import InsideView
from tui.views.view_far import FarView
from tui.views.view_switches import Switch

_EDGES = 6
"""Columns of border and padding around the drawing."""


class InsideScreen(Room, groups=INSIDE):
    """Drawn anew only where something has changed."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self._clock = Clock("TRAINER", f"{title}: what no technician sees")
        self._line, self._volts = Static(markup=False), Static(markup=False)
        self._unit, self._levels = Static(classes="inside"), Static(classes="levels", markup=False)
        self._list = OptionList(id="switches", markup=False)
        self._about = Static(classes="about", markup=False)
        self._said = Said(id="said")
        self._seen: InsideView | None = None

    def compose(self) -> ComposeResult:
        yield self._clock
        with VerticalScroll(id="inside", can_focus=False):
            yield _panel("Line", "line", self._line)
            with Horizontal(classes="halves"):
                yield _panel("Unit", "unit", self._unit, self._levels)
                with Vertical(classes="right"):
                    yield _panel("Volts along it", "volts", self._volts)
                    yield self._list
                    yield self._about
        yield self._said
        yield from self.foot()

    def on_mount(self) -> None:
        self._list.border_title = "In or out: Enter"
        self._list.focus()

    @property
    def columns(self) -> int:
        """How wide the drawing may be."""
        return max(20, self.size.width - _EDGES)

    @property
    def marked(self) -> str | None:
        """The name of what is marked in the list."""
        at = self._list.highlighted
        return None if at is None else self._list.get_option_at_index(at).id

    @on(OptionList.OptionSelected, "#switches")
    def _chosen(self) -> None:
        self.post_message(Asked("switch"))

    @on(OptionList.OptionHighlighted, "#switches")
    def _marked_one(self, event: OptionList.OptionHighlighted) -> None:
        if self._seen is not None:
            self._about.update(self._seen.switches[event.option_index].about)

    def show(self, view: InsideView) -> None:
        """Put a picture on the screen."""
        seen, self._seen = self._seen, view
        self._clock.view = view.clock
        self._said.view = view.said
        if seen is None or seen.line != view.line:
            self._line.update("\n".join([view.line.drawing, *view.line.troubles]))
            self._volts.update("\n".join(view.line.volts))
        if seen is None or seen.far != view.far:
            self._unit.update(unit(view.far, power=True))
            self._levels.update(_levels(view.far))
        if seen is None or seen.switches != view.switches:
            self._list_anew(view.switches)

    def _list_anew(self, switches: tuple[Switch, ...]) -> None:
        at = self._list.highlighted
        self._list.clear_options()
        self._list.add_options([Option(_switch(each), id=each.name) for each in switches])
        self._list.highlighted = at or 0


def _panel(title: str, style: str, *inside: Static) -> Vertical:
    panel = Vertical(*inside, classes=f"panel {style}")
    panel.border_title = title
    return panel


def _switch(switch: Switch) -> Content:
    return Content.assemble(
        ("[x] " if switch.on else "[ ] ", "bold"), (switch.words, "bold" if switch.on else "")
    )


def _levels(far: FarView) -> str:
    """Eight tones, each with its level, how far it is over the floor, and a bar."""
    lines = [
        f"{words} {bar}"
        for levels in (far.low, far.high)
        for words, bar in zip(levels.words.splitlines(), levels.bars.splitlines(), strict=True)
    ]
    return "\n".join([far.scale, *lines, far.verdict])
