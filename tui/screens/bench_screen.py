"""The bench's screen: where each panel stands. It is given views and passes on what was asked."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from farend_sim.unit.scheme import Scheme
from tui.keymap import ACTS, DRILL_HINTS, GROUPS, HINTS, KEYPAD
from tui.panels.asked import KeyPressed
from tui.panels.clock import Clock
from tui.panels.code_card import CodeCard
from tui.panels.heard import Heard
from tui.panels.helper import HelperPanel
from tui.panels.keypad import Keypad
from tui.panels.logbook import Logbook
from tui.panels.meter_face import MeterFace
from tui.panels.near_end import NearEnd
from tui.panels.said import Said
from tui.panels.trainer import Trainer
from tui.screens.room import Room
from tui.views.frame import TraineeView
from tui.views.view_far import FarView


class BenchScreen(Room, groups=GROUPS):
    """Three columns under the brief, the caution below."""

    def __init__(self, name: str, title: str, brief: str, scheme: Scheme, *, drill: bool) -> None:
        super().__init__()
        self._drill = drill
        self._clock = Clock(name, title)
        self._brief = Static(brief, id="brief", markup=False)
        self._keypad, self._near = Keypad(), NearEnd()
        self._meter, self._helper = MeterFace(), HelperPanel()
        self._heard, self.logbook = Heard(), Logbook()
        self._card, self._trainer = CodeCard(scheme), Trainer()
        self._said = Said(id="said")

    def compose(self) -> ComposeResult:
        yield self._clock
        yield self._brief
        with Horizontal(id="body"):
            yield Vertical(self._keypad, self._near, id="left")
            yield Vertical(self._meter, self._helper, self._card, id="middle")
            yield Vertical(self._heard, self.logbook, id="right")
        yield self._trainer
        yield self._said
        yield from self.foot(*(ACTS[name] for name in (DRILL_HINTS if self._drill else HINTS)))

    def on_key(self, event: events.Key) -> None:
        if event.character and event.character in KEYPAD:
            event.stop()
            self.post_message(KeyPressed(event.character))

    def show(self, trainee: TraineeView, far: FarView | None) -> None:
        """Put a picture on the screen; a panel whose view is the same does nothing."""
        self._clock.view = trainee.clock
        self._keypad.view = trainee.keypad
        self._near.view = trainee.near
        self._meter.view = trainee.meter
        self._helper.view = trainee.helper
        self._heard.trace.view = trainee.trace
        self._heard.sounds = trainee.sounds
        self.logbook.entries = trainee.entries
        self._said.view = trainee.said
        self._trainer.view = far
