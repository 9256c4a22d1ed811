"""Comma-separated values as lines of cells; empty lines and those that begin with # left out."""

import csv


def lines_of(text: str) -> list[tuple[int, list[str]]]:
    """Each line's number and its cells, without the space around them."""
    return [
        (number, [cell.strip() for cell in cells])
        for number, cells in enumerate(csv.reader(text.splitlines()), 1)
        if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith("#")
    ]
