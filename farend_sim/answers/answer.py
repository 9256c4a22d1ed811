"""An answer of the lab in one shape: figures for a program, tables and plots for a person.

Text, page and JSON are made from this and from nothing else.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

Cell = str | float | None


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


@dataclass(frozen=True, slots=True)
class Answer:
    title: str
    figures: dict[str, Any]
    tables: tuple[Table, ...]
    plots: tuple[Plot, ...]
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = field(default=())


def points(xs: Iterable[float], ys: Iterable[float]) -> tuple[tuple[float, float], ...]:
    """Two arrays as the points of a line."""
    return tuple((float(x), float(y)) for x, y in zip(xs, ys, strict=True))


def cell_text(cell: Cell) -> str:
    """A cell as people read it: three or four digits are plenty."""
    if cell is None:
        return "-"
    if isinstance(cell, str):
        return cell
    if cell == 0 or 0.01 <= abs(cell) < 10_000:
        return f"{cell:.4g}" if abs(cell) < 1000 else f"{cell:.0f}"
    return f"{cell:.3g}"
