"""The hold lab on the screen: a cost curve with a hold that the arrow keys move, tables below."""

from collections.abc import Callable, Iterator
from typing import Any

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from farend_sim.answers.text import plot_text, table_text
from tui.hold_case import HoldCase, fleet_case, meter_case
from tui.keymap import HOLD_LAB
from tui.screens.lab import Lab

_TAKEN = 17
"""Lines that rows, legend, heading and feet take."""
SHORTEST_S, LONGEST_S = 1.0, 3600.0


class HoldLab(Lab[HoldCase], groups=HOLD_LAB):
    """One question: a meter, or a fleet."""

    def __init__(self, kind: str, name: str) -> None:
        super().__init__()
        self._kind, self._of = kind, name
        self._case: HoldCase | None = None
        self._hold_s = 0.0
        self._heading = Static(" Hold lab", classes="heading", markup=False)
        self._now, self._rest = Static(markup=False), Static(markup=False)

    def compose(self) -> ComposeResult:
        yield self._heading
        with VerticalScroll(id="lab", classes="scrolls", can_focus=False):
            yield self._now
            yield self._rest
        yield from self.foot()

    def on_mount(self) -> None:
        ask = meter_case if self._kind == "meter" else fleet_case
        self.begin(f"working it out: {self._of}", lambda: ask(self._of))

    def told(self, words: str) -> None:
        self._now.update(words)

    def done(self, result: HoldCase) -> None:
        self._case, self._hold_s = result, round(result.default_s)
        self._heading.update(f" Hold lab | {result.title}")
        tables = [line for table in result.answer.tables for line in ("", *table_text(table))]
        notes = [f"warning: {each}" for each in result.answer.warnings]
        self._rest.update("\n".join([*tables, "", *notes, *result.answer.notes]))
        self._show()

    def acts(self) -> dict[str, Callable[[], Any]]:
        return super().acts() | {
            "shorter": lambda: self._move(-1),
            "longer": lambda: self._move(1),
            "much_shorter": lambda: self._move(-10),
            "much_longer": lambda: self._move(10),
            "best": self._to_best,
        }

    def _move(self, by_s: float) -> None:
        self._hold_s = min(LONGEST_S, max(SHORTEST_S, self._hold_s + by_s))
        self._show()

    def _to_best(self) -> None:
        if self._case is not None:
            self._hold_s = float(round(self._case.best_s))
            self._show()

    def _plot(self, case: HoldCase) -> Iterator[str]:
        """The curve, as high as there is room below the rows."""
        high = max(7, min(20, self.size.height - _TAKEN))
        wide = max(40, min(100, self.size.width - 16))
        return plot_text(case.plot(self._hold_s), wide, high)

    def on_resize(self) -> None:
        self._show()

    def _show(self) -> None:
        case = self._case
        if case is None:
            return
        default = f"the unit comes with {case.default_s:g} s, cheapest is {case.best_s:.0f} s"
        lines = (f"A hold of {self._hold_s:.0f} s: {default}", *case.rows(self._hold_s), "")
        self._now.update("\n".join([*lines, *self._plot(case)]))
