"""A drill worked line by line: a step's words, and a few words that are no steps.

Law: a line that is not understood is told and changes nothing; what is done is on disk before it is
answered.
"""

from collections.abc import Callable, Iterable

from farend_sim.bench.answer import said
from farend_sim.drill.told import cautions_text, past_the_end, record_text, ticket_text
from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError
from farend_sim.scheme_lab.export.card import card
from tui.plain.transcript_text import lines_of
from tui.plain.verbs_told import verbs_text
from tui.worksheet import reckoned

Say = Callable[[str], None]
OWN = {
    "ticket": "the work ticket, the meters at hand, the time",
    "record": "the plant record",
    "card": "the card of the unit's codes, and what its replies mean",
    "locate METHOD OPTIONS": "the worksheet, on this drill's record (as `farend-sim locate`)",
    "answers": "what stands answered",
    "hint": "what to do next, for some marks",
    "cautions": "the cautions again",
    "help": "these words",
    "done": "hand the work in, and be marked",
    "quit": "leave; the same command goes on here",
}


class Talk:
    """One sitting of an attempt."""

    def __init__(self, attempt: Attempt, say: Say, feet: bool = False) -> None:
        self.attempt, self.say, self.feet = attempt, say, feet
        self.over = False

    def hear(self, lines: Iterable[str]) -> None:
        """Take lines until one of them ends the sitting."""
        for line in lines:
            self.take(line.strip())
            if self.over:
                return

    def take(self, line: str) -> None:
        """Take one line."""
        word, _, rest = line.partition(" ")
        scenario = self.attempt.drill.situation.scenario
        own: dict[str, Callable[[], None]] = {
            "ticket": self._ticket,
            "record": lambda: self.say(record_text(self.attempt.drill, self.feet)),
            "card": lambda: self.say(card(self.attempt.drill.situation.scheme).rstrip()),
            "cautions": lambda: self.say(cautions_text()),
            "help": self._help,
            "answers": self._answers,
            "hint": self._hint,
            "locate": lambda: self.say(reckoned(scenario, rest.split(), self.feet)),
            "done": self._done,
            "quit": self._quit,
        }
        if not line or line.startswith("#"):
            return
        if word in own:
            own[word]()
            return
        try:
            row = self.attempt.do(line)
        except BadFileError as error:
            self.say(str(error).replace("step:1: ", ""))
            return
        self.say("\n".join(lines_of(row, self.feet)))
        if past := past_the_end(self.attempt.drill, row, self.feet):
            self.say(past)

    def _help(self) -> None:
        self.say("\n".join(f"{word:<24} {what}" for word, what in OWN.items()))
        self.say("and the steps:")
        self.say(verbs_text(self.attempt.drill.situation, drill=True))

    def _ticket(self) -> None:
        gone_s = self.attempt.snapshot.now_us / 1e6
        self.say(f"{ticket_text(self.attempt.drill)}\nGone so far: {gone_s / 60:.1f} minutes")

    def _answers(self) -> None:
        stand = [said(one, self.feet) for one in self.attempt.answers]
        self.say("\n".join(stand) or "nothing is answered yet")

    def _hint(self) -> None:
        from farend_sim.drill.lesson.hints import hint

        self.attempt.ask_hint()
        self.say(hint(self.attempt))

    def _done(self) -> None:
        self.attempt.hand_in()
        self.over = True

    def _quit(self) -> None:
        self.over = True
