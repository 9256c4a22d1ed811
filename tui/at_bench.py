"""What is asked at one bench, done: its sitting, its time, its two screens.

Law: snapshots up, verbs down. The screens get views and post what was asked; only this acts.
"""

from collections.abc import Callable
from typing import cast

from textual.app import App

from farend_sim.bench.wiring import Lead
from tui.card import card
from tui.frame import inside, trainee, trainer
from tui.help_text import bench_help
from tui.pace import Pace
from tui.questions import ACROSS, HELPER_ACTS, LEADS, NO_METER, Answers, meters
from tui.screens.bench_screen import BenchScreen
from tui.screens.chooser import Chooser
from tui.screens.help_screen import HelpScreen
from tui.screens.inside_screen import InsideScreen
from tui.script import Script
from tui.sitting import Sitting


class AtBench:
    """A person at a bench, on the screen."""

    def __init__(
        self, app: App[None], sitting: Sitting, pace: Pace, *, name: str, feet: bool, trainers: bool
    ) -> None:
        self.sitting, self.pace = sitting, pace
        self._app, self._feet, self.trainers = app, feet, trainers
        scenario = sitting.situation.scenario
        self._brief = " ".join(scenario.brief.split())
        self._card = card(sitting.situation.scheme)
        title = scenario.title or sitting.situation.path.stem
        self.screen = BenchScreen(name, title, self._brief, self._card)
        self.inside_screen: InsideScreen | None = None
        self._title = title
        self.script = Script()

    def advance(self, by_us: int) -> None:
        """Let time pass at the bench, and show what came of it."""
        self.script.play(self.sitting, self.sitting.bench.now_us + by_us)
        self.refresh()

    def refresh(self) -> None:
        """Put the picture of now on the screen that is in front."""
        whole = self.inside_screen
        if whole is not None and whole.is_mounted:
            whole.show(inside(self.sitting, self.pace, self._feet, whole.columns))
        elif self.screen.is_mounted:
            far = trainer(self.sitting) if self.trainers else None
            self.screen.set_class(self.trainers, "-trainer")
            self.screen.show(trainee(self.sitting, self.pace, self._feet), far)

    def press(self, key: str) -> None:
        """A key of the pair's keypad."""
        self.sitting.press(key)
        self.refresh()

    def note(self, text: str) -> None:
        """A note is finished."""
        if self.sitting.note(text):
            self.screen.logbook.clear_draft()
        self.refresh()

    def leave(self) -> bool:
        """Write first what was typed and not written yet; tells whether that went well."""
        return self.sitting.note(self.screen.logbook.draft)

    def acts(self) -> dict[str, Callable[[], object]]:
        """What each act of the table does here; the app knows the rest."""
        sitting, pace = self.sitting, self.pace
        return {
            "meter": self._ask_meter,
            "across": lambda: self._ask("Across which terminals?", ACROSS, sitting.clip_across),
            "read": sitting.read,
            "zero": sitting.zero,
            "lead": lambda: self._ask("A clip lead at the near end?", LEADS, self._put_lead),
            "lift": sitting.lift,
            "helper": lambda: self._ask("Ask the helper to ...", HELPER_ACTS, sitting.ask),
            "write": sitting.write,
            "note": self.screen.logbook.begin_note,
            "length": self._turn_length,
            "pause": pace.pause,
            "faster": pace.faster,
            "slower": pace.slower,
            "help": self._help,
            "trainer": self._turn_trainer,
            "inside": self._look_inside,
            "switch": self._switch,
        }

    # -- questions -----------------------------------------------------------------------------

    def _ask(self, question: str, answers: Answers, do: Callable[[str], object]) -> None:
        """Ask, and do something with the answer if there is one."""

        def answered(answer: str | None) -> None:
            if answer is not None:
                do(answer)
                self.refresh()

        self._app.push_screen(Chooser(question, answers), answered)

    def _ask_meter(self) -> None:
        self._ask("Which meter?", meters(self.sitting.bench.meters), self._clip)

    def _clip(self, name: str) -> None:
        across = self.sitting.bench.snapshot().across or ACROSS[0][0]
        self.sitting.clip(None if name == NO_METER else name, across)

    def _put_lead(self, lead: str) -> None:
        self.sitting.put_lead(cast(Lead, lead))

    # -- the screens themselves ----------------------------------------------------------------

    def _help(self) -> None:
        self._app.push_screen(HelpScreen(bench_help(self._card, self._brief)))

    def _turn_length(self) -> None:
        self._feet = not self._feet

    def _turn_trainer(self) -> None:
        self.trainers = not self.trainers

    def _look_inside(self) -> None:
        self.inside_screen = InsideScreen(self._title)
        self._app.push_screen(self.inside_screen)

    def _switch(self) -> None:
        """Put in or take out what the trainer's screen has marked."""
        whole = self.inside_screen
        if whole is not None and (name := whole.marked) is not None:
            self.sitting.switch(name)
