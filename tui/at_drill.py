"""What a drill adds to a bench: its ticket, answers, hints, the verdict and the debrief."""

from collections.abc import Callable
from functools import partial

from farend_sim.bench.answer import said
from farend_sim.bench.steps.answer_words import CLASS_OHM
from farend_sim.drill.lesson.debrief import debrief
from farend_sim.drill.lesson.debrief_text import debrief_text
from farend_sim.drill.lesson.hints import hint
from farend_sim.drill.marks.verdict import HINT_COSTS, judge
from farend_sim.drill.marks.verdict_text import verdict_text
from farend_sim.drill.told import cautions_text, record_text, ticket_text
from farend_sim.drill.work.attempt import Attempt
from farend_sim.loading.toml_text import table_of, toml_text
from line_model.constants import FOOT_M
from tui.asking import Asking
from tui.person.sitting import Sitting
from tui.screens.debrief_screen import DebriefScreen
from tui.step_asked import take_step
from tui.ways import ACTIONS_SAID, KINDS_SAID, LEGS_KNOWN, LEGS_SAID, TAKE_BACK

NO_DRILL = "This is no drill: nothing is marked here."
_SURE = (("yes", "yes: hand it in and be marked"), ("no", "no, not yet"))
_HINT = (("yes", "yes: tell me"), ("no", "no, not yet"))


class AtDrill:
    """A drill at a bench; without an attempt it only says that there is none."""

    def __init__(self, sitting: Sitting, asking: Asking) -> None:
        self._sitting, self._asking = sitting, asking
        self.attempt = sitting.attempt
        self.handed_in: Callable[[Attempt], str] = lambda attempt: ""
        """What else is done with an attempt that is handed in, and what is said of that."""
        self.placed_m: tuple[float, float] | None = None
        """The worksheet's last place, and how far it may be off: what an answer starts from."""

    def close(self) -> None:
        """Let go of the attempt's journal; it goes on from there."""
        if self.attempt is not None:
            self.attempt.close()

    def acts(self) -> dict[str, Callable[[], object]]:
        """What each act of the job does."""
        return {
            "ticket": self._ticket,
            "answer": self._in_drill(self._ask_kind),
            "hint": self._in_drill(self._hint),
            "hand_in": self._in_drill(self._hand_in),
        }

    def _in_drill(self, do: Callable[[Attempt], object]) -> Callable[[], object]:
        def done() -> None:
            if self.attempt is None:
                self._sitting.said = NO_DRILL
            else:
                do(self.attempt)

        return done

    def _ticket(self) -> None:
        scenario = self._sitting.situation.scenario
        if self.attempt is None:
            record = toml_text({"plant": table_of(scenario.recorded)})
            self._asking.text(f"{scenario.brief.strip()}\n\nThe plant record:\n\n{record}", "Job")
        else:
            drill = self.attempt.drill
            texts = (ticket_text(drill), record_text(drill, self._sitting.feet), cautions_text())
            self._asking.text("\n\n".join(texts), "Ticket and record")

    def _hint(self, attempt: Attempt) -> None:
        def wanted(answer: str) -> None:
            if answer == "yes":
                attempt.ask_hint()
                self._sitting.said = hint(attempt)

        if attempt.hint_is_free:
            wanted("yes")
        else:
            question = f"A hint takes {HINT_COSTS:g} of 100 marks. What to do next?"
            self._asking.choice(question, _HINT, wanted)

    # -- an answer, asked for part by part -----------------------------------------------------

    def _ask_kind(self, attempt: Attempt) -> None:
        def chosen(kind: str) -> None:
            if kind in ("none", "drop"):
                self._sitting.do(f"answer {kind}")
            elif kind == "unit":
                self._ask_action(f"kind={kind}")
            elif kind in LEGS_KNOWN:
                self._ask_where(f"kind={kind}")
            else:
                self._asking.choice("On which conductors?", LEGS_SAID, partial(self._legs, kind))

        back = TAKE_BACK if attempt.answers else ()
        self._asking.choice("What is wrong?", (*KINDS_SAID, *back), chosen)

    def _legs(self, kind: str, leg: str) -> None:
        self._ask_where(f"kind={kind}" + (f" leg={leg}" if leg else ""))

    def _ask_where(self, words: str) -> None:
        unit, many, one_m = ("ft", "feet", FOOT_M) if self._sitting.feet else ("m", "metres", 1.0)
        at, off = (f"{each / one_m:.0f}" for each in self.placed_m) if self.placed_m else ("", "")

        def placed(so_far: str) -> None:
            if so_far == words:
                self._ask_ohm(so_far)
            else:
                question = f"Off by how many {many} at most, to either side?"
                self._ask_part(so_far, question, f"within_{unit}", off, self._ask_ohm)

        question = f"How many {many} from the near end?"
        self._ask_part(words, question, f"at_{unit}", at, placed)

    def _ask_ohm(self, words: str) -> None:
        classes = ", ".join(CLASS_OHM)
        if "kind=open" in words:
            self._ask_action(words)
        else:
            self._ask_part(words, f"How many ohm? Or {classes}", "ohm", "", self._ask_action)

    def _ask_part(
        self, words: str, question: str, name: str, value: str, then: Callable[[str], object]
    ) -> None:
        """Ask for one part of it, which may be left out."""

        def typed(given: str) -> None:
            then(f"{words} {name}={given}" if given else words)

        self._asking.part(question, typed, value, "leave empty what is not known; ")

    def _ask_action(self, words: str) -> None:
        def chosen(action: str) -> None:
            text = f"answer {words}" + (f" action={action}" if action else "")
            take_step(self._sitting, self._asking, text)

        self._asking.choice("What is to be done?", ACTIONS_SAID, chosen)

    # -- the end -------------------------------------------------------------------------------

    def _hand_in(self, attempt: Attempt) -> None:
        def sure(answer: str) -> None:
            if answer == "yes":
                attempt.hand_in()
                self._sitting.said = self.handed_in(attempt)
                self.debrief(attempt)

        if attempt.handed_in:
            self.debrief(attempt)
        else:
            stands = (
                "; ".join(said(one, self._sitting.feet) for one in attempt.answers) or "nothing"
            )
            question = f"You answer: {stands}. Is the work done, and everything put back?"
            self._asking.choice(question, _SURE, sure)

    def debrief(self, attempt: Attempt) -> None:
        """Show the verdict, and every step again."""
        feet = self._sitting.feet
        rows = [done.row for done in attempt.done]
        verdict = verdict_text(judge(attempt), feet)

        def lesson() -> str:
            return debrief_text(debrief(attempt, feet), feet)

        screen = DebriefScreen(attempt.drill.title, verdict, rows, feet, lesson)
        self._asking.room(screen)
