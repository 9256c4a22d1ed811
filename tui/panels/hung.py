"""Lines of columns in words: what is wrapped goes on under where a line's words begin."""

import re
from textwrap import wrap

from textual.content import Content
from textual.widgets import Static

_WORDS = re.compile(r"\s*(?:.{0,18}\s\s)?(?=\S)")
"""What stands before a line's words: a short first column, or only its indent."""


class Hung(Static):
    """Wrapped anew when it becomes wider or narrower."""

    def __init__(self, text: str = "") -> None:
        super().__init__(markup=False)
        self._blocks: tuple[tuple[str, str], ...] = ((text, ""),)
        self._columns = 0

    def say(self, *blocks: tuple[str, str]) -> None:
        """Show texts one under another, each with its style."""
        self._blocks = blocks
        shown = [Content.styled(hung(text, self._columns), style) for text, style in blocks]
        self.update(Content("\n").join(shown))

    def on_resize(self) -> None:
        if self._columns != self.size.width:
            self._columns = self.size.width
            self.say(*self._blocks)


def hung(text: str, columns: int) -> str:
    """A text wrapped to so many columns; as it is where there are too few to wrap to."""
    return "\n".join(_hung(line, columns) for line in text.split("\n"))


def _hung(line: str, columns: int) -> str:
    before = _WORDS.match(line)
    indent = before.end() if before else 0
    if columns < indent + 12 or len(line) <= columns:
        return line
    return "\n".join(wrap(line, columns, subsequent_indent=" " * indent, break_on_hyphens=False))
