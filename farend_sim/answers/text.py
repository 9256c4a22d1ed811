"""An answer as text: tables in columns, and a plot drawn with letters."""

from collections.abc import Iterator

from farend_sim.answers.answer import Answer, Line, Plot, Table, cell_text

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
    high_x, low_y, high_y = limits(plot)
    low_x = min(x for line in plot.lines for x, _ in line.points)
    field = [[" "] * width for _ in range(height)]
    for _, x in plot.marks:
        column = round((x - low_x) / (high_x - low_x) * (width - 1))
        if 0 <= column < width:
            for row in field:
                row[column] = ":"
    for sign, line in zip(SIGNS, plot.lines, strict=False):
        for column in range(width):
            y = value_at(line, low_x + (high_x - low_x) * column / (width - 1))
            if y is not None and low_y <= y <= high_y:
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


def limits(plot: Plot) -> tuple[float, float, float]:
    """The largest x, the least and the largest y that are drawn."""
    ys = [y for line in plot.lines for _, y in (*line.points, *line.low)]
    high_x = max(x for line in plot.lines for x, _ in line.points)
    high_y = max(ys) if plot.y_most is None else min(max(ys), plot.y_most)
    low_y = min(0.0, *ys)
    return high_x, low_y, high_y if high_y > low_y else low_y + 1.0


def value_at(line: Line, x: float) -> float | None:
    """A line's height at a place; None before its start and past its end."""
    before = None
    for at in line.points:
        if at[0] >= x:
            if before is None or at[0] == before[0]:
                return at[1] if at[0] == x or before is not None else None
            share = (x - before[0]) / (at[0] - before[0])
            return before[1] + share * (at[1] - before[1])
        before = at
    return None
