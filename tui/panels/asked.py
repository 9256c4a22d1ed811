"""What panels post: a key of the keypad, or an act by its name."""

from textual.message import Message

from farend_sim.scheme_lab.check.finding import Keyed
from farend_sim.situation import Situation


class KeyPressed(Message):
    """A key of the pair's keypad."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key


class Asked(Message):
    """An act of tui/keymap.py."""

    def __init__(self, act: str) -> None:
        super().__init__()
        self.act = act


class NoteTyped(Message):
    """A note is finished."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text


class SchemePlayed(Message):
    """A finding's keys are to be played on a bench."""

    def __init__(self, situation: Situation, keyed: tuple[Keyed, ...], what: str) -> None:
        super().__init__()
        self.situation, self.keyed, self.what = situation, keyed, what
