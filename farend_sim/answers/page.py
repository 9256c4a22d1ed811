"""HTML pages that need nothing from elsewhere: of an answer, or of any body. All is escaped."""

from collections.abc import Iterable, Iterator
from html import escape

from farend_sim.answers.answer import Answer, Cell, Table, cell_text
from farend_sim.answers.svg import plot_svg
from farend_sim.cautions import FIRST

_STYLE = """
body { font: 15px/1.5 sans-serif; max-width: 54rem; margin: 2rem auto; padding: 0 1rem;
  color: #222; background: #fff }
table { border-collapse: collapse; margin: 1rem 0; width: 100% }
caption { text-align: left; font-weight: bold; padding-bottom: .3rem }
th, td { padding: .15rem .7rem; border-bottom: 1px solid #ccc; text-align: left;
  vertical-align: top }
td.number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
pre { white-space: pre-wrap }
svg { width: 100%; height: auto; margin: 1rem 0; font: 11px sans-serif }
svg text { fill: currentColor }
.caution, .warning { border-left: 4px solid #b3541e; padding-left: .7rem }
.spoiled { color: #b3541e }
@media (prefers-color-scheme: dark) { body { color: #ddd; background: #181818 } }
"""


def document(title: str, body: Iterable[str]) -> str:
    """A whole page: the caution, the title, and a body that is HTML already."""
    return "\n".join(
        (
            "<!doctype html>",
            '<html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(title)}</title><style>{_STYLE}</style></head><body>",
            f'<p class="caution">{escape(FIRST)}</p><h1>{escape(title)}</h1>',
            *body,
            "</body></html>",
            "",
        )
    )


def page(answer: Answer) -> str:
    """An answer as a page."""
    return document(answer.title, _body(answer))


def _body(answer: Answer) -> Iterator[str]:
    yield from (f'<p class="warning">{escape(each)}</p>' for each in answer.warnings)
    yield from map(table_html, answer.tables)
    yield from map(plot_svg, answer.plots)
    yield from (f"<p>{escape(each)}</p>" for each in answer.notes)


def table_html(table: Table) -> str:
    """A table, its title above it; what is no text is a number, and stands to the right."""
    title = f"<caption>{escape(table.title)}</caption>" if table.title else ""
    head = "".join(f"<th>{escape(each)}</th>" for each in table.head)
    rows = (f"<tr>{''.join(map(_cell, row))}</tr>" for row in table.rows)
    return "\n".join((f"<table>{title}<tr>{head}</tr>", *rows, "</table>"))


def _cell(cell: Cell) -> str:
    if isinstance(cell, str):
        return f"<td>{escape(cell)}</td>"
    return f'<td class="number">{cell_text(cell)}</td>'
