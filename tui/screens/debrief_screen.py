"""The debrief: the verdict, and every step again with what the far end was meanwhile."""

from collections.abc import Callable, Sequence
from typing import Any

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from farend_sim.bench.steps.transcript import Row
from tui.keymap import DEBRIEF
from tui.panels.hung import Hung
from tui.plain.transcript_text import lines_of
from tui.screens.lab import Lab

_BAR = 60
_AROUND = 4


class DebriefScreen(Lab[str], groups=DEBRIEF):
    """Steps of a finished attempt, scrubbed in time."""

    def __init__(
        self,
        title: str,
        verdict: str,
        rows: Sequence[Row],
        feet: bool,
        lesson: Callable[[], str] | None = None,
    ) -> None:
        """Show the verdict at once, and the whole lesson when it is worked out."""
        super().__init__()
        self._lesson = lesson
        self._title, self._feet = title, feet
        self._verdict = verdict
        self._words = Hung(verdict)
        self._rows = tuple(rows)
        self._at = 0
        self._bar, self._steps = Static(markup=False), Hung()

    def compose(self) -> ComposeResult:
        yield Static(f" Debrief | {self._title}", classes="heading", markup=False)
        yield self._bar
        with Horizontal(id="debrief"):
            yield VerticalScroll(self._steps, classes="steps", can_focus=False)
            yield VerticalScroll(self._words, classes="verdict scrolls", can_focus=False)
        yield from self.foot()

    def on_mount(self) -> None:
        self._show()
        if self._lesson is not None:
            self.begin("the lesson is worked out", self._lesson)

    def told(self, words: str) -> None:
        self._words.say((f"{self._verdict}\n\n{words}", ""))

    def done(self, result: str) -> None:
        self._words.say((result, ""))

    def acts(self) -> dict[str, Callable[[], Any]]:
        return super().acts() | {
            "earlier": lambda: self._go(self._at - 1),
            "later": lambda: self._go(self._at + 1),
            "first": lambda: self._go(0),
            "last": lambda: self._go(len(self._rows) - 1),
        }

    def _go(self, to: int) -> None:
        self._at = max(0, min(len(self._rows) - 1, to))
        self._show()

    def _show(self) -> None:
        if not self._rows:
            self._bar.update("nothing was done")
            return
        self._bar.update(time_bar(self._rows, self._at))
        first = max(0, self._at - _AROUND)
        around = self._rows[first : self._at + _AROUND + 1]
        self._steps.say(
            *(
                ("\n".join(lines_of(row, self._feet)), self._style(first + at))
                for at, row in enumerate(around)
            )
        )

    def _style(self, at: int) -> str:
        return "bold reverse" if at == self._at else ""


def time_bar(rows: Sequence[Row], at: int) -> str:
    """Where in the whole time a step lies: marks for steps, a bolder one for this."""
    last_s = max(1e-6, rows[-1]["t_s"])
    cells = ["\u2500"] * _BAR
    for row in rows:
        cells[round(row["start_s"] / last_s * (_BAR - 1))] = "\u253c"
    cells[round(rows[at]["start_s"] / last_s * (_BAR - 1))] = "\u2588"
    return f" {''.join(cells)} {at + 1} of {len(rows)}, {rows[at]['start_s']:.1f} s"
