"""A step that is typed, asked for until it is one or is left; what was typed is never lost."""

from tui.asking import Asking
from tui.person.sitting import Sitting
from tui.plain.line_by_line import HELP
from tui.plain.verbs_told import usage, verbs_text


def ask_step(sitting: Sitting, asking: Asking, start: str = "", wrong: str = "") -> None:
    """Ask for a step; what is wrong with the one before stands under it."""

    def typed(text: str) -> None:
        if text in HELP:
            drill = sitting.attempt is not None
            asking.text(verbs_text(sitting.situation, drill=drill), "Steps")
        else:
            take_step(sitting, asking, text)

    asking.line("Which step?", typed, start, f"{wrong}help: all steps; ")


def take_step(sitting: Sitting, asking: Asking, text: str) -> None:
    """Do a step as it is written; if it is none, it can be mended."""
    if wrong := sitting.typed(text):
        ask_step(sitting, asking, text, f"{wrong}\n{usage(text)}")
