"""Paths with a knee: on which piece of its law each one is, at rest and in time.

The laws are monotone, so a circuit has one solution and nothing chatters. A spell is linear: it
ends where a path reaches its knee, and the next one begins on the other piece.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from line_model.network import Mesh
from line_model.parts import Knee, Part, Real
from line_model.transient import Capacitors, Modes

Parts = tuple[Part, ...]

_SOON_S = 1e-6
"""A piece is judged this long after a switch: at the knee itself two pieces agree [s]."""
_MARGIN_VOLT = 1e-6
_MARGIN_AMP = 1e-9
"""So far past its knee a path begins to conduct, and at so much current the other way it ceases.
More than rounding where one spell hands over to the next, so that none flips a path back."""
_GRID_S: Real = np.geomspace(1e-6, 1e4, 101)
"""Where a spell is looked at for a knee; between two of these its modes hardly turn back."""


def at_rest(parts: Parts) -> Parts:
    """Return the circuit with each knee on its piece when all has settled."""
    return _settle(parts, lambda tried, a, b: Mesh((0.0,), tried).volt(a, b) or 0.0)


def in_time(parts: Parts, capacitors: Capacitors, modes: Callable[[Parts], Modes]) -> Parts:
    """Return the circuit with each knee on its piece just after a switch."""

    def soon(tried: Parts, a: str, b: str) -> float:
        solved = modes(tried)
        row = solved.row(a, b)
        return 0.0 if row is None else float(row @ solved.after(solved.start(capacitors), _SOON_S))

    return _settle(parts, soon)


def moved_on(parts: Parts, volt: Callable[[str, str], float | None]) -> Parts:
    """Return the circuit with each knee on the piece that its voltage at this moment asks for."""
    return tuple(
        _on(part, _piece(part, volt(part.a, part.b) or 0.0)) if isinstance(part, Knee) else part
        for part in parts
    )


def next_knee_s(parts: Parts, modes: Modes, amplitude: Real) -> float | None:
    """When the first path leaves its piece [s]; None if none ever does."""
    rows = [(knee, modes.row(knee.a, knee.b)) for knee in parts if isinstance(knee, Knee)]
    live = [(knee, row) for knee, row in rows if row is not None]
    if not live:
        return None

    def leaves(seconds: float) -> bool:
        now = modes.after(amplitude, seconds)
        return any(_piece(knee, float(row @ now)) != knee.conducts for knee, row in live)

    before_s = 0.0
    for after_s in _GRID_S:
        if leaves(float(after_s)):
            return _bisected(leaves, before_s, float(after_s))
        before_s = float(after_s)
    return None


def _bisected(leaves: Callable[[float], bool], before_s: float, after_s: float) -> float:
    while after_s - before_s > 1e-7:
        middle_s = (before_s + after_s) / 2
        before_s, after_s = (before_s, middle_s) if leaves(middle_s) else (middle_s, after_s)
    return after_s


def _settle(parts: Parts, volt: Callable[[Parts, str, str], float]) -> Parts:
    """Flip the knee that is furthest off its piece until none is."""
    knees = [i for i, part in enumerate(parts) if isinstance(part, Knee)]
    for _ in range(4 * len(knees) + 1):
        wrong = []
        for i in knees:
            knee = parts[i]
            assert isinstance(knee, Knee)
            v = volt(parts, knee.a, knee.b)
            if (piece := _piece(knee, v)) != knee.conducts:
                wrong.append((abs(abs(v - knee.emf_volt) - knee.knee_volt), i, piece))
        if not wrong:
            break
        _, i, piece = max(wrong)
        parts = (*parts[:i], _on(parts[i], piece), *parts[i + 1 :])
    return parts


def _on(part: Part, piece: int) -> Part:
    assert isinstance(part, Knee)
    return replace(part, conducts=piece)


def _piece(knee: Knee, volt: float) -> int:
    v = volt - knee.emf_volt
    if knee.conducts and knee.conducts * v > knee.knee_volt - _MARGIN_AMP * knee.ohm:
        return knee.conducts
    return 0 if abs(v) <= knee.knee_volt + _MARGIN_VOLT else (1 if v > 0 else -1)
