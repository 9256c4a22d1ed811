"""Levels over time, drawn in braille: two moments a cell, four heights a line.

Pure: levels in, lines of text out.
"""

from collections.abc import Sequence

_LEFT = (0x40, 0x04, 0x02, 0x01)
_RIGHT = (0x80, 0x20, 0x10, 0x08)
"""The dots of a cell's two columns, from the bottom up."""


def heights(levels_dbm: Sequence[float], rows: int, low_dbm: float, high_dbm: float) -> list[int]:
    """Dots for each level: one for silence, all of them at the top of the scale."""
    dots = 4 * rows
    span = high_dbm - low_dbm
    return [
        max(1, min(dots, round(dots * (level_dbm - low_dbm) / span))) for level_dbm in levels_dbm
    ]


def drawn(
    levels_dbm: Sequence[float], columns: int, rows: int, low_dbm: float, high_dbm: float
) -> list[str]:
    """The latest levels as lines of braille, newest at the right, top line first."""
    latest = list(levels_dbm[-2 * columns :])
    missing = 2 * columns - len(latest)
    tall = [0] * missing + heights(latest, rows, low_dbm, high_dbm)
    return [_line(tall, row) for row in reversed(range(rows))]


def _line(tall: list[int], row: int) -> str:
    cells = zip(tall[::2], tall[1::2], strict=True)
    return "".join(
        chr(0x2800 + _dots(left - 4 * row, _LEFT) + _dots(right - 4 * row, _RIGHT))
        for left, right in cells
    )


def _dots(height: int, column: tuple[int, ...]) -> int:
    return sum(column[: max(0, min(4, height))])
