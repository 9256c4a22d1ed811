"""Paths with a knee: on which piece of its law each one is, at rest and in time.

The laws are monotone, so a circuit has one solution and nothing chatters. A spell is linear: it
ends where a path reaches its knee, and the next one begins on the other piece.
"""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from line_model.network import Mesh
from line_model.parts import Knee, Part, Real, Source
from line_model.transient import Capacitors, Modes

Parts = tuple[Part, ...]
Volt = Callable[[str, str], float]
"""V(a) - V(b) [V]."""

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
    if not _within_reach(parts):
        return parts

    def settled(tried: Parts) -> Volt:
        mesh = Mesh((0.0,), tried).seen_from(_ends(tried))
        return lambda a, b: mesh.volt(a, b) or 0.0

    return _settle(parts, settled)


def in_time(parts: Parts, capacitors: Capacitors, modes: Callable[[Parts], Modes]) -> Parts:
    """Return the circuit with each knee on its piece just after a switch."""

    def soon(tried: Parts) -> Volt:
        solved = modes(tried)
        now = solved.after(solved.start(capacitors), _SOON_S)

        def volt(a: str, b: str) -> float:
            row = solved.row(a, b)
            return 0.0 if row is None else float(row @ now)

        return volt

    return _settle(parts, soon)


def moved_on(parts: Parts, volt: Callable[[str, str], float | None]) -> Parts:
    """Return the circuit with each knee on the piece that its voltage at this moment asks for."""
    return tuple(
        _on(part, _piece(part, volt(part.a, part.b) or 0.0)) if isinstance(part, Knee) else part
        for part in parts
    )


def next_knee_s(parts: Parts, modes: Modes, amplitude: Real) -> float | None:
    """When the first path leaves its piece [s]; None if none ever does."""
    rows = [(knee, modes.row(knee.a, knee.b)) for knee in _knees(parts)]
    live = [
        (knee, row)
        for knee, row in rows
        if row is not None and _may_leave(knee, row, modes, amplitude)
    ]
    if not live:
        return None

    def leaves(seconds: float) -> bool:
        now = modes.after(amplitude, seconds)
        return any(_piece(knee, float(row @ now)) != knee.conducts for knee, row in live)

    # all moments of the grid in one product; only the step in which a path leaves is searched
    now = modes.at_all(amplitude, _GRID_S)
    volts = [(knee, (row @ now).tolist()) for knee, row in live]
    first = next(
        (
            i
            for i in range(_GRID_S.size)
            if any(_piece(knee, volt[i]) != knee.conducts for knee, volt in volts)
        ),
        None,
    )
    if first is None:
        return None
    return _bisected(leaves, float(_GRID_S[first - 1]) if first else 0.0, float(_GRID_S[first]))


def _may_leave(knee: Knee, row: Real, modes: Modes, amplitude: Real) -> bool:
    """Whether a path could ever leave its piece: no voltage passes its modes' whole swing."""
    settled = modes.settled()
    end, swing = float(row @ settled), float(np.abs(row) @ np.abs(amplitude - settled))
    return any(_piece(knee, end + sign * swing) != knee.conducts for sign in (-1, 1))


def _bisected(leaves: Callable[[float], bool], before_s: float, after_s: float) -> float:
    while after_s - before_s > 1e-7:
        middle_s = (before_s + after_s) / 2
        before_s, after_s = (before_s, middle_s) if leaves(middle_s) else (middle_s, after_s)
    return after_s


def _settle(parts: Parts, volts: Callable[[Parts], Volt]) -> Parts:
    """Flip the knee that is furthest off its piece until none is."""
    knees = [(i, part) for i, part in enumerate(parts) if isinstance(part, Knee)]
    for _ in range(4 * len(knees) + 1):
        wrong, volt = [], volts(parts)
        for i, _ in knees:
            knee = parts[i]
            assert isinstance(knee, Knee)
            v = volt(knee.a, knee.b)
            if (piece := _piece(knee, v)) != knee.conducts:
                wrong.append((abs(abs(v - knee.emf_volt) - knee.knee_volt), i, piece))
        if not wrong:
            break
        _, i, piece = max(wrong)
        parts = (*parts[:i], _on(parts[i], piece), *parts[i + 1 :])
    return parts


def _knees(parts: Parts) -> tuple[Knee, ...]:
    return tuple(part for part in parts if isinstance(part, Knee))


def _ends(parts: Parts) -> tuple[str, ...]:
    return tuple(dict.fromkeys(node for knee in _knees(parts) for node in (knee.a, knee.b)))


def _within_reach(parts: Parts) -> bool:
    """Whether all sources together could bring a path to its knee: at rest none adds more."""
    knees = _knees(parts)
    if not knees:
        return False
    strange = (part for part in parts if not isinstance(part, Source | Knee))
    if any(True for part in strange for _ in part.drive()):
        return True
    whole_volt = sum(abs(part.volt) for part in parts if isinstance(part, Source))
    whole_volt += sum(abs(knee.emf_volt) for knee in knees)
    return any(knee.conducts or whole_volt >= knee.knee_volt for knee in knees)


def _on(part: Part, piece: int) -> Part:
    assert isinstance(part, Knee)
    return replace(part, conducts=piece)


def _piece(knee: Knee, volt: float) -> int:
    v = volt - knee.emf_volt
    if knee.conducts and knee.conducts * v > knee.knee_volt - _MARGIN_AMP * knee.ohm:
        return knee.conducts
    return 0 if abs(v) <= knee.knee_volt + _MARGIN_VOLT else (1 if v > 0 else -1)
