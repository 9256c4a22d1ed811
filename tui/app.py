"""The Pair bench: the full-screen app, a thin shell around one sitting.

Law 1: snapshots up, verbs down. Panels get views and post what was asked; only this file acts.
Law 2: one timer. It asks the pace how much time has passed and lets the bench have it.
"""

from typing import cast

from textual import on
from textual.app import App

from farend_sim.bench.wiring import Lead
from tui.card import card
from tui.frame import trainee, trainer
from tui.help_text import help_text
from tui.pace import Pace
from tui.panels.asked import Asked, KeyPressed, NoteTyped
from tui.questions import ACROSS, HELPER_ACTS, LEADS, NO_METER, meters
from tui.screens.bench_screen import BenchScreen
from tui.screens.chooser import Chooser
from tui.screens.help_screen import HelpScreen
from tui.sitting import Sitting
from tui.themes import DARK, LIGHT

NAME = "Pair bench"
TICK_S = 1 / 25


class PairBench(App[None]):
    """One bench under a person's hands."""

    TITLE = NAME
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False

    def __init__(
        self,
        sitting: Sitting,
        pace: Pace,
        *,
        feet: bool = False,
        trainers: bool = False,
        light: bool = False,
    ) -> None:
        super().__init__()
        self._sitting, self._pace = sitting, pace
        self._feet, self._trainers = feet, trainers
        scenario = sitting.situation.scenario
        self._brief = " ".join(scenario.brief.split())
        title = scenario.title or sitting.situation.path.stem
        self._card = card(sitting.situation.scheme)
        self.bench_screen = BenchScreen(NAME, title, self._brief, self._card)
        self.register_theme(DARK)
        self.register_theme(LIGHT)
        self.theme = LIGHT.name if light else DARK.name

    def on_mount(self) -> None:
        self.push_screen(self.bench_screen)
        self.set_interval(TICK_S, self.tick)

    # -- time ----------------------------------------------------------------------------------

    def tick(self) -> None:
        """Let the bench have the time that has passed."""
        self.advance(self._pace.take_us())

    def advance(self, by_us: int) -> None:
        """Let time pass at the bench, and show what came of it."""
        self._sitting.advance(by_us)
        self.refresh_views()

    def refresh_views(self) -> None:
        """Put the picture of now on the screen."""
        if self.bench_screen.is_mounted:
            far = trainer(self._sitting) if self._trainers else None
            self.bench_screen.set_class(self._trainers, "-trainer")
            self.bench_screen.show(trainee(self._sitting, self._pace, self._feet), far)

    # -- what was asked ------------------------------------------------------------------------

    @on(KeyPressed)
    def _press(self, message: KeyPressed) -> None:
        self._sitting.press(message.key)
        self.refresh_views()

    @on(NoteTyped)
    def _note(self, message: NoteTyped) -> None:
        if self._sitting.note(message.text):
            self.bench_screen.logbook.clear_draft()
        self.refresh_views()

    @on(Asked)
    def _asked(self, message: Asked) -> None:
        self.action_act(message.act)

    def action_act(self, name: str) -> None:
        """Do what was asked by a key or a button."""
        sitting, pace = self._sitting, self._pace
        acts = {
            "meter": self._ask_meter,
            "across": self._ask_across,
            "read": sitting.read,
            "zero": sitting.zero,
            "lead": self._ask_lead,
            "lift": sitting.lift,
            "helper": self._ask_helper,
            "write": sitting.write,
            "note": self.bench_screen.logbook.begin_note,
            "length": self._turn_length,
            "pause": pace.pause,
            "faster": pace.faster,
            "slower": pace.slower,
            "help": self._help,
            "light": self._turn_light,
            "trainer": self._turn_trainer,
            "leave": self._leave,
        }
        acts[name]()
        self.refresh_views()

    # -- questions -----------------------------------------------------------------------------

    def _ask_meter(self) -> None:
        answers = meters(self._sitting.bench.meters)
        self.push_screen(Chooser("Which meter?", answers), self._meter_chosen)

    def _meter_chosen(self, name: str | None) -> None:
        if name is not None:
            across = self._sitting.bench.snapshot().across or ACROSS[0][0]
            self._sitting.clip(None if name == NO_METER else name, across)
            self.refresh_views()

    def _ask_across(self) -> None:
        self.push_screen(Chooser("Across which terminals?", ACROSS), self._across_chosen)

    def _across_chosen(self, across: str | None) -> None:
        if across is not None:
            self._sitting.clip_across(across)
            self.refresh_views()

    def _ask_lead(self) -> None:
        self.push_screen(Chooser("A clip lead at the near end?", LEADS), self._lead_chosen)

    def _lead_chosen(self, lead: str | None) -> None:
        if lead is not None:
            self._sitting.put_lead(cast(Lead, lead))
            self.refresh_views()

    def _ask_helper(self) -> None:
        self.push_screen(Chooser("Ask the helper to ...", HELPER_ACTS), self._helper_chosen)

    def _helper_chosen(self, act: str | None) -> None:
        if act is not None:
            self._sitting.ask(act)
            self.refresh_views()

    # -- the screen itself ---------------------------------------------------------------------

    def _help(self) -> None:
        self.push_screen(HelpScreen(help_text(self._card, self._brief)))

    def _turn_length(self) -> None:
        self._feet = not self._feet

    def _turn_light(self) -> None:
        self.theme = DARK.name if self.theme == LIGHT.name else LIGHT.name

    def _turn_trainer(self) -> None:
        self._trainers = not self._trainers

    def _leave(self) -> None:
        """What was typed and not written yet is written first."""
        if self._sitting.note(self.bench_screen.logbook.draft):
            self.exit()

    async def action_quit(self) -> None:
        """The library's own way out leads past the logbook too."""
        self._leave()
