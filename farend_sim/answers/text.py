"""An answer as text: tables in columns, and a plot drawn with letters."""

from collections.abc import Iterator

import numpy as np

from farend_sim.answers.answer import Answer, Plot, Table, cell_text

WIDTH, HEIGHT = 64, 14
SIGNS = "*o+x#%"


def answer_text(answer: Answer) -> Iterator[str]:
    """All lines of an answer."""
    yield answer.title
    for table in answer.tables:
        yield ""
        yield from table_text(table)
    for plot in answer.plots:
        yield ""
        yield from plot_text(plot)
    if answer.notes:
        yield ""
        yield from answer.notes
    for warning in answer.warnings:
        yield f"warning: {warning}"


def table_text(table: Table) -> Iterator[str]:
    """A table whose columns are as wide as they must be; numbers to the right."""
    rows = [[cell_text(cell) for cell in row] for row in table.rows]
    widths = [max(map(len, column)) for column in zip(table.head, *rows, strict=True)]
    yield f"  {table.title}"
    heads = zip(table.head, widths, strict=True)
    yield f"    {'  '.join(name.ljust(width) for name, width in heads)}".rstrip()
    for row, texts in zip(table.rows, rows, strict=True):
        cells = (
            text.ljust(width) if isinstance(cell, str) else text.rjust(width)
            for cell, text, width in zip(row, texts, widths, strict=True)
        )
        yield f"    {'  '.join(cells)}".rstrip()


def plot_text(plot: Plot, width: int = WIDTH, height: int = HEIGHT) -> Iterator[str]:
    """A plot of letters, so many wide and high, its legend below."""
    (low_x, high_x), (low_y, high_y) = plot.span_x, plot.span_y
    field = [[" "] * width for _ in range(height)]
    for _, x in plot.marks:
        column = round((x - low_x) / (high_x - low_x) * (width - 1))
        if 0 <= column < width:
            for row in field:
                row[column] = ":"
    for sign, line in zip(SIGNS, plot.lines, strict=False):
        xs, ys = zip(*line.points, strict=True)
        at = np.interp(np.linspace(low_x, high_x, width), xs, ys, left=np.nan, right=np.nan)
        for column, y in enumerate(at):
            if low_y <= y <= high_y:
                level = round((high_y - y) / (high_y - low_y) * (height - 1))
                field[level][column] = sign
    yield f"  {plot.title}"
    yield f"  {plot.y}"
    for at, row in enumerate(field):
        y = high_y - (high_y - low_y) * at / (height - 1)
        label = f"{y:9.3g}" if at % 3 == 0 or at == height - 1 else " " * 9
        yield f"{label} |{''.join(row)}".rstrip()
    yield f"{'':9} +{'-' * width}"
    yield f"{'':9}  {f'{low_x:.3g}':<9}{plot.x:^{width - 18}}{f'{high_x:.3g}':>9}"
    names = [f"{sign} {line.name}" for sign, line in zip(SIGNS, plot.lines, strict=False)]
    yield f"{'':9}  {', '.join([*names, *(f': {name}' for name, _ in plot.marks)])}"
