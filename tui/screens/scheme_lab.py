"""The scheme lab on the screen: a scheme's card, its check, its findings, and their keys played."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from farend_sim.files import find_scheme, load_situation
from farend_sim.scheme_lab.check.check import Report, check
from farend_sim.scheme_lab.check.finding import Finding, keys_text
from farend_sim.scheme_lab.export.card import card
from tui.keymap import SCHEME_LAB
from tui.panels.asked import Asked, SchemePlayed
from tui.screens.lab import Lab

PLANT = "good-pair"
"""The plant that says in which states the unit is deaf, and on which keys are played."""
SIGNS = {"error": "!!", "warning": "! ", "note": "  "}


class SchemeLab(Lab[Report], groups=SCHEME_LAB):
    """One scheme."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._scheme = find_scheme(name, draft=True)
        self._findings: tuple[Finding, ...] = ()
        self._list = OptionList(id="findings", markup=False)
        self._about, self._state = Static(id="about", markup=False), Static(markup=False)

    def compose(self) -> ComposeResult:
        yield Static(f" Scheme lab | {self._scheme.title}", classes="heading", markup=False)
        about = " ".join(self._scheme.about.split())
        with VerticalScroll(id="lab", classes="scrolls", can_focus=False):
            yield Static(f"{about}\n\n{card(self._scheme)}", markup=False)
        with Vertical(id="found"):
            yield self._state
            yield self._list
            yield self._about
        yield from self.foot()

    def on_mount(self) -> None:
        self._list.border_title = "Findings: Enter plays the keys on the bench"
        self.told("not checked yet: c checks it")
        self._list.focus()

    def acts(self) -> dict[str, Callable[[], Any]]:
        return super().acts() | {
            "check": self._check,
            "play": self._play,
        }

    def _check(self) -> None:
        on_plant = load_situation(PLANT)
        self.begin("checking all that can be keyed", lambda: check(self._scheme, on_plant))

    def told(self, words: str) -> None:
        self._state.update(words)

    def done(self, result: Report) -> None:
        self._findings = result.findings
        slips = result.matrix
        verdict = "something is wrong" if result.bad else "nothing is wrong"
        self.told(
            f"{verdict}: {len(result.findings)} findings; {slips.slips} single slips played, "
            f"{slips.harmful} do harm; {result.moments} moments, {result.steps} steps"
        )
        self._list.clear_options()
        self._list.add_options([Option(_row(each)) for each in self._findings])
        if self._findings:
            self._list.highlighted = 0

    @on(OptionList.OptionHighlighted)
    def _marked(self, event: OptionList.OptionHighlighted) -> None:
        finding = self._findings[event.option_index]
        keys = keys_text(finding.keys) or "no keys needed to see it"
        self._about.update(f"{finding.what}\n{keys}\nwhat to do: {finding.do}")

    @on(OptionList.OptionSelected)
    def _chosen(self) -> None:
        self.post_message(Asked("play"))

    def _play(self) -> None:
        at = self._list.highlighted
        if at is None or not self._findings[at].keys:
            self.told("there are no keys to play: choose a finding that has some")
            return
        finding = self._findings[at]
        situation = replace(load_situation(PLANT), scheme=self._scheme)
        self.post_message(SchemePlayed(situation, finding.keys, finding.what))


def _row(finding: Finding) -> str:
    often = f" ({finding.times} times)" if finding.times > 1 else ""
    return f"{SIGNS[finding.severity]} {finding.severity} {finding.kind}{often}: {finding.what}"
