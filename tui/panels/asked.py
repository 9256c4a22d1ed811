"""What panels post: a key of the keypad, or an act by its name."""

from textual.message import Message


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
