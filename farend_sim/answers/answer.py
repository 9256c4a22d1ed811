"""An answer in one shape: figures for a program, tables and plots for a person.

Text, page and JSON are made from this and from nothing else.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

Cell = str | float | None

_NO_YES = {"hears": ("deaf", "hears")}
"""How yes and no are told where they are not left out and "yes"."""


@dataclass(frozen=True, slots=True)
class Table:
    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a plot, or the upper edge of a band if it has a lower one."""

    name: str
    points: tuple[tuple[float, float], ...]
    low: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Plot:
    title: str
    x: str
    y: str
    lines: tuple[Line, ...]
    marks: tuple[tuple[str, float], ...] = ()
    """Names and places along x."""
    y_most: float | None = None
    """Where the plot is cut off at the top."""

    @property
    def span_x(self) -> tuple[float, float]:
        """The least and the largest x that are drawn."""
        xs = [x for line in self.lines for x, _ in line.points]
        return min(xs), max(xs)

    @property
    def span_y(self) -> tuple[float, float]:
        """The least and the largest y that are drawn; nought is always among them."""
        ys = [y for line in self.lines for _, y in (*line.points, *line.low)]
        low = min(0.0, *ys)
        high = max(ys) if self.y_most is None else min(max(ys), self.y_most)
        return low, high if high > low else low + 1.0


@dataclass(frozen=True, slots=True)
class Answer:
    title: str
    figures: dict[str, Any]
    tables: tuple[Table, ...]
    plots: tuple[Plot, ...]
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = field(default=())


def table_of(title: str, rows: Iterable[Mapping[str, Any]], heads: Mapping[str, str]) -> Table:
    """Rows that stand among the figures as a table: those of their keys that have a heading."""
    cells = (tuple(_cell(key, row[key]) for key in heads) for row in rows)
    return Table(title, tuple(heads.values()), tuple(cells))


def _cell(key: str, value: Any) -> Cell:
    if isinstance(value, bool):
        return _NO_YES.get(key, ("", "yes"))[value]
    return ", ".join(value) if isinstance(value, list) else value


def points(xs: Iterable[float], ys: Iterable[float]) -> tuple[tuple[float, float], ...]:
    """Two arrays as the points of a line."""
    return tuple((float(x), float(y)) for x, y in zip(xs, ys, strict=True))


def records(**columns: Iterable[float]) -> list[dict[str, float]]:
    """Arrays side by side as rows with the names of the columns."""
    rows = zip(*columns.values(), strict=True)
    return [dict(zip(columns, map(float, row), strict=True)) for row in rows]


def cell_text(cell: Cell) -> str:
    """A cell as people read it: three or four digits are plenty."""
    if cell is None:
        return "-"
    if isinstance(cell, str):
        return cell
    if cell == 0 or 0.01 <= abs(cell) < 10_000:
        return f"{cell:.4g}" if abs(cell) < 1000 else f"{cell:.0f}"
    return f"{cell:.3g}"
