"""How a class does, for its trainer: attempts, progress by skill, and what goes wrong most."""

from collections import Counter
from collections.abc import Sequence

from farend_sim.answers.answer import Answer, Cell, Table
from farend_sim.drill.book.class_book import ClassBook, Row

_ATTEMPTS = ("trainee", "attempt", "drill", "began", "passed", "score", "took_s", "hints")
_PROGRESS = ("trainee", "skill", "tries", "passes", "best", "last")
_ERRORS = ("error", "times")


def class_answer(book: ClassBook) -> Answer:
    """The whole book in the shape that page and text are made from."""
    figures = {
        "attempts": book.attempts(),
        "progress": book.progress(),
        "verdicts": book.verdicts(),
        "readings": book.readings(),
    }
    tables = (
        _table("Progress by skill", _PROGRESS, figures["progress"]),
        _table("Attempts", _ATTEMPTS, figures["attempts"]),
        _table("Errors, most frequent first", _ERRORS, errors(figures["verdicts"])),
    )
    return Answer("Class book", figures, tables, ())


def errors(verdicts: Sequence[Row]) -> list[Row]:
    """What went wrong in the class, and how often."""
    count = Counter(one["text"] for row in verdicts for one in row["told"]["mistakes"])
    most = sorted(count.items(), key=lambda one: (-one[1], one[0]))
    return [{"error": text, "times": times} for text, times in most]


def _table(title: str, head: tuple[str, ...], rows: Sequence[Row]) -> Table:
    return Table(title, head, tuple(tuple(_cell(row, name) for name in head) for row in rows))


def _cell(row: Row, name: str) -> Cell:
    value = row[name]
    if name == "passed":
        return "under way" if value is None else ("yes" if value else "no")
    if value is None or isinstance(value, str):
        return value or ""
    return float(round(value))
