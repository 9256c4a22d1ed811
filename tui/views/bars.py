"""Levels as bars of a line's height."""

_CELLS = 10
_FULL, _EMPTY, _FLOOR = "\u2501", "\u2508", "\u253c"


def level_bar(
    level_dbm: float | None, span_dbm: tuple[float, float], floor_dbm: float | None = None
) -> str:
    """A level between a bar's foot and its top; None is silence. A floor is marked in it."""
    full = _cells(level_dbm, span_dbm)
    floor = None if floor_dbm is None else _cells(floor_dbm, span_dbm)
    return "".join(
        _FLOOR if cell == floor else _FULL if cell < full else _EMPTY for cell in range(_CELLS)
    )


def _cells(level_dbm: float | None, span_dbm: tuple[float, float]) -> int:
    low_dbm, high_dbm = span_dbm
    share = 0.0 if level_dbm is None else (level_dbm - low_dbm) / (high_dbm - low_dbm)
    return max(0, min(_CELLS, round(share * _CELLS)))
