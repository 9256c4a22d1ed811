"""What is asked at one bench, done: its sitting, its time, its screens.

Law: snapshots up, verbs down. The screens get views and post what was asked; only this acts.
"""

from collections.abc import Callable

from textual.app import App

from farend_sim.bench.levels import ReceiverLevel
from tui.asking import Asking
from tui.at_drill import AtDrill
from tui.help_text import bench_help
from tui.pace import Pace
from tui.person.helper import errands
from tui.person.sitting import Sitting
from tui.questions import LEADS, NO_METER, hookups, meters
from tui.screens.bench_screen import BenchScreen
from tui.screens.block_screen import BlockScreen
from tui.screens.help_screen import HelpScreen
from tui.screens.inside_screen import InsideScreen
from tui.script import Script
from tui.step_asked import ask_step
from tui.views.frame import inside, trainee, trainer
from tui.views.view import clock
from tui.views.view_block import posts
from tui.views.view_switches import switch
from tui.ways import ELSEWHERE, ways
from tui.worksheet import filled, methods, placed_m, reckoned

NO_LOOK = "In a drill nobody looks inside the far end; the debrief does."


class AtBench:
    """A person at a bench, on the screen."""

    def __init__(
        self,
        app: App[None],
        sitting: Sitting,
        pace: Pace,
        *,
        name: str,
        trainers: bool,
        title: str = "",
    ) -> None:
        self.sitting, self.pace = sitting, pace
        self.asking = Asking(app, self.refresh)
        self.drill = AtDrill(sitting, self.asking)
        attempt = sitting.attempt
        self._app, self.trainers = app, trainers and attempt is None
        scenario = sitting.situation.scenario
        told = scenario.brief if attempt is None else attempt.drill.lesson.ticket
        self._brief = " ".join(told.split())
        title = title or scenario.title or sitting.situation.path.stem
        drill = attempt is not None
        self.screen = BenchScreen(name, title, self._brief, sitting.situation.scheme, drill=drill)
        self._title = title
        self.script = Script()
        self._level = ReceiverLevel()

    def advance(self, by_us: int) -> None:
        """Let time pass at the bench, and show what came of it."""
        self.script.play(self.sitting, self.sitting.bench.now_us + by_us)
        self.refresh()

    def refresh(self) -> None:
        """Put the picture of now on the screen that is in front."""
        stack = reversed(self._app.screen_stack)
        front = next((each for each in stack if not each.is_modal), None)
        if front is None or not front.is_mounted:  # the app is on its way out
            return
        if isinstance(front, InsideScreen):
            front.show(inside(self.sitting, self.pace, self._level, front.columns))
        elif isinstance(front, BlockScreen):
            now = clock(self.sitting.bench.now_us, self.pace.rate, self.pace.paused)
            front.show(now, tuple(posts(self.sitting)), self.sitting.said)
        elif front is self.screen:
            far = trainer(self.sitting, self._level) if self.trainers else None
            self.screen.set_class(self.trainers, "-trainer")
            self.screen.show(trainee(self.sitting, self.pace), far)

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
            "across": self._ask_across,
            "read": sitting.read,
            "zero": sitting.zero,
            "lead": lambda: self.asking.choice("A clip lead at the near end?", LEADS, sitting.do),
            "lift": sitting.lift,
            "helper": self._ask_helper,
            "write": sitting.write,
            "note": self.screen.logbook.begin_note,
            "place": self._ask_place,
            "block": self._go_to_block,
            "step": lambda: ask_step(sitting, self.asking),
            "worksheet": self._ask_method,
            "length": self._turn_length,
            "pause": pace.pause,
            "faster": pace.faster,
            "slower": pace.slower,
            "help": self._help,
            "trainer": self._turn_trainer,
            "inside": self._look_inside,
            "switch": self._switch,
            "clip": lambda: self._at_post("clip {}"),
            "probe": lambda: self._at_post("probe {}"),
            "probe_tip": lambda: self._at_post("probe {} tip"),
            "probe_ring": lambda: self._at_post("probe {} ring"),
            "pinch": lambda: self._at_post("pinch {}"),
            **self.drill.acts(),
        }

    # -- questions -----------------------------------------------------------------------------

    def _ask_meter(self) -> None:
        self.asking.choice("Which meter?", meters(self.sitting.bench.at_hand.meters), self._clip)

    def _clip(self, name: str) -> None:
        """Clip it as the last one was, if it can be; else the usual way."""
        profile = None if name == NO_METER else self.sitting.situation.meters[name]
        ways = [way for way, _ in hookups(profile)]
        before = self.sitting.bench.snapshot().across
        self.sitting.clip(None if name == NO_METER else name, before if before in ways else ways[0])

    def _ask_across(self) -> None:
        meter = self.sitting.bench.snapshot().meter
        profile = self.sitting.situation.meters[meter] if meter else None
        self.asking.choice("Across which terminals?", hookups(profile), self.sitting.clip_across)

    def _ask_helper(self) -> None:
        acts = tuple(errands(self.sitting.helper))
        self.asking.choice("Ask the helper to ...", acts, self.sitting.do)

    def _ask_place(self) -> None:
        where = self.sitting.bench.pair.where

        def chosen(step: str) -> None:
            if step == ELSEWHERE:
                hint = "metres from the near end, or PLACE +METRES; "
                self.asking.line("Where?", lambda at: self.sitting.do(f"repair {at}"), hint=hint)
            else:
                self.sitting.do(step)

        self.asking.choice(
            f"You are at {where.spot.place}. What now?", ways(where, self.sitting.feet), chosen
        )

    def _ask_method(self) -> None:
        scenario = self.sitting.situation.scenario

        def chosen(method: str) -> None:
            def show(options: str) -> None:
                words = [method, *options.split()]
                said = reckoned(scenario, words, self.sitting.feet)
                self.drill.placed_m = placed_m(scenario, words)
                self.asking.text(said, f"Worksheet: {method} {options}")

            start = filled(method, self.sitting.entries)
            self.asking.line(f"Worksheet: {method}", show, start)

        self.asking.choice("Which method?", methods(), chosen)

    def _go_to_block(self) -> None:
        if self.sitting.situation.scenario.block is None:
            self.sitting.said = "There is no block here: the pair is clipped from the start."
        else:
            self.asking.room(BlockScreen(self._title))

    def _at_post(self, step: str) -> None:
        front = self._app.screen
        if isinstance(front, BlockScreen) and front.marked is not None:
            self.sitting.do(step.format(front.marked))

    # -- the screens themselves ----------------------------------------------------------------

    def _help(self) -> None:
        self._app.push_screen(HelpScreen(bench_help(self.sitting.situation.scheme, self._brief)))

    def _turn_length(self) -> None:
        self.sitting.feet = not self.sitting.feet

    def _turn_trainer(self) -> None:
        if self.drill.attempt is not None:
            self.sitting.said = NO_LOOK
        else:
            self.trainers = not self.trainers

    def _look_inside(self) -> None:
        if self.drill.attempt is not None:
            self.sitting.said = NO_LOOK
        else:
            self.asking.room(InsideScreen(self._title))

    def _switch(self) -> None:
        """Put in or take out what the trainer's screen has marked."""
        front = self._app.screen
        if isinstance(front, InsideScreen) and (name := front.marked) is not None:
            switch(self.sitting, name)
