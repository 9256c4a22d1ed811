"""An answer as one HTML page that needs nothing from elsewhere. Every text is escaped."""

from collections.abc import Iterator
from html import escape

from farend_sim.hold_lab.answer import Answer, Table, cell_text
from farend_sim.hold_lab.svg import plot_svg

CAUTION = (
    "Simulator: no reading here proves a real pair safe; "
    "local codes and licensed practice come first."
)
STYLE = """
body { font: 15px/1.5 sans-serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem;
  color: #222; background: #fff }
table { border-collapse: collapse; margin: 1rem 0 }
caption { text-align: left; font-weight: bold; padding-bottom: .3rem }
th, td { padding: .15rem .7rem; border-bottom: 1px solid #ddd; text-align: left }
td.number { text-align: right; font-variant-numeric: tabular-nums }
svg { width: 100%; height: auto; margin: 1rem 0 }
.warning { border-left: 4px solid #b3541e; padding-left: .7rem }
@media (prefers-color-scheme: dark) { body { color: #ddd; background: #181818 } }
"""


def page(answer: Answer) -> str:
    """Return the whole page."""
    title = escape(answer.title)
    return "\n".join(
        (
            "<!doctype html>",
            '<html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{title}</title><style>{STYLE}</style></head><body>",
            f"<h1>{title}</h1>",
            *(f'<p class="warning">{escape(each)}</p>' for each in answer.warnings),
            *(line for table in answer.tables for line in _table(table)),
            *(plot_svg(plot) for plot in answer.plots),
            *(f"<p>{escape(each)}</p>" for each in answer.notes),
            f"<p><small>{escape(CAUTION)}</small></p>",
            "</body></html>",
            "",
        )
    )


def _table(table: Table) -> Iterator[str]:
    yield f"<table><caption>{escape(table.title)}</caption><tr>"
    yield "".join(f"<th>{escape(each)}</th>" for each in table.head) + "</tr>"
    for row in table.rows:
        cells = (
            f"<td>{escape(cell)}</td>"
            if isinstance(cell, str)
            else f'<td class="number">{escape(cell_text(cell))}</td>'
            for cell in row
        )
        yield f"<tr>{''.join(cells)}</tr>"
    yield "</table>"
