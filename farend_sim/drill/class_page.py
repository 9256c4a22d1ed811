"""How a class does, for its trainer: attempts, and progress by skill, as text and as one page."""

from collections.abc import Iterator
from html import escape

from farend_sim.drill.cautions import FIRST
from farend_sim.drill.class_book import ClassBook, Row
from farend_sim.drill.debrief_page import STYLE

_ATTEMPTS = ("trainee", "attempt", "drill", "began", "passed", "score", "took_s", "hints")
_PROGRESS = ("trainee", "skill", "tries", "passes", "best", "last")


def class_text(book: ClassBook) -> str:
    """Attempts and progress as two tables of text."""
    tables = ((_ATTEMPTS, book.attempts()), (_PROGRESS, book.progress()))
    return "\n\n".join("\n".join(_table(head, rows)) for head, rows in tables)


def class_page(book: ClassBook) -> str:
    """The trainer's page: self-contained, all escaped."""
    return "\n".join(_page(book)) + "\n"


def _page(book: ClassBook) -> Iterator[str]:
    yield "<!doctype html>"
    yield '<html lang="en"><head><meta charset="utf-8">'
    yield f"<title>Class book</title><style>{STYLE}</style></head><body>"
    yield f'<p class="caution">{escape(FIRST)}</p><h1>Class book</h1>'
    for title, head, rows in (
        ("Progress by skill", _PROGRESS, book.progress()),
        ("Attempts", _ATTEMPTS, book.attempts()),
        ("Errors, most frequent first", ("error", "times"), errors(book)),
    ):
        yield f"<h2>{title}</h2><table><tr>{''.join(f'<th>{name}</th>' for name in head)}</tr>"
        for row in rows:
            yield f"<tr>{''.join(f'<td>{escape(_cell(row, name))}</td>' for name in head)}</tr>"
        yield "</table>"
    yield "</body></html>"


def errors(book: ClassBook) -> list[Row]:
    """What went wrong in the class, and how often."""
    count: dict[str, int] = {}
    for row in book.verdicts():
        for slip in row["told"]["slips"]:
            count[slip["text"]] = count.get(slip["text"], 0) + 1
    most = sorted(count.items(), key=lambda one: (-one[1], one[0]))
    return [{"error": text, "times": times} for text, times in most]


def _table(head: tuple[str, ...], rows: list[Row]) -> Iterator[str]:
    cells = [list(head), *([_cell(row, name) for name in head] for row in rows)]
    wide = [max(len(line[at]) for line in cells) for at in range(len(head))]
    for line in cells:
        yield "  ".join(cell.ljust(width) for cell, width in zip(line, wide, strict=True)).rstrip()


def _cell(row: Row, name: str) -> str:
    value = row[name]
    if name == "passed":
        return "under way" if value is None else ("yes" if value else "no")
    if value is None:
        return ""
    return f"{value:.0f}" if isinstance(value, float) else str(value)
