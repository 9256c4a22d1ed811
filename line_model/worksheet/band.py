"""A place with its band: the worst that the tolerances allow together.

Law: the band holds the true place whenever each quantity is within its tolerance. All corners of
the tolerances are tried, since a place moves one way only with each of them.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import product
from math import isfinite
from typing import Any

from line_model.constants import FOOT_M


class ImpossibleReadingError(Exception):
    """Readings that no place on the record explains; its text says why, for a technician."""


@dataclass(frozen=True, slots=True)
class Band:
    """Where something lies [m], not yet held against the ends of the route."""

    at_m: float
    low_m: float
    high_m: float
    shares_m: dict[str, float] = field(default_factory=dict)
    """How far each tolerance moves it by itself."""


@dataclass(frozen=True, slots=True)
class Place:
    """A place on the route, as found by a method of the worksheet."""

    at_m: float
    low_m: float
    high_m: float
    shares_m: dict[str, float]
    values: dict[str, float]
    """What else came of the readings; each key ends in its unit."""
    notes: tuple[str, ...] = ()


def banded(place: Callable[..., float], moves: Mapping[str, Sequence[Any]]) -> Band:
    """Where a method puts the trouble, and how far tolerances move it.

    Args:
        place: gives metres; without arguments by the readings and the record as they are.
        moves: for each keyword of `place`, the ends of what it may be. A quantity without moves
            stays as it is.
    """
    at_m = place()
    moves = {name: tuple(ends) for name, ends in moves.items() if ends}
    corners = [
        place(**dict(zip(moves, corner, strict=True))) for corner in product(*moves.values())
    ]
    shares = {
        name: max(abs(place(**{name: end}) - at_m) for end in ends) for name, ends in moves.items()
    }
    return Band(at_m, min(at_m, *corners), max(at_m, *corners), shares)


def told_m(length_m: float) -> str:
    """A length in words: whoever reads it may think in metres or in feet."""
    digits = 0 if length_m >= 100 else 1
    return f"{length_m:.{digits}f} m ({length_m / FOOT_M:.0f} ft)"


def placed(
    band: Band,
    length_m: float,
    values: Mapping[str, float],
    notes: Sequence[str] = (),
    why_past: str = "the trouble itself has resistance, or the record is wrong",
) -> Place:
    """Hold a band against the ends of the route.

    Args:
        band: where the readings put it.
        length_m: of the route.
        values: what else came of the readings.
        notes: for the technician.
        why_past: what it may mean when the place is past the far end.

    Raises:
        ImpossibleReadingError: no place on the route is within the band.
    """
    if band.low_m > length_m * (1 + 1e-9):
        over_m = band.low_m - length_m
        far = f"at the least it is {told_m(over_m)}" if isfinite(over_m) else "it is far"
        raise ImpossibleReadingError(
            f"no place on the record reads this: {far} "
            f"past the far end, which is at {told_m(length_m)}; {why_past}"
        )
    if band.high_m < -1e-9 * length_m:
        raise ImpossibleReadingError(
            f"no place on the record reads this: even at the most it is {told_m(-band.high_m)} "
            "behind the near end; check leads, contacts and foreign voltage"
        )
    told = list(notes)
    if not 0 <= band.at_m <= length_m:
        end = "the near end" if band.at_m < 0 else "the far end"
        off_m = max(-band.at_m, band.at_m - length_m)
        past = f"{told_m(off_m)} past" if isfinite(off_m) else "far past"
        told.insert(0, f"the readings say {past} {end}; that end is within the band")
    low_m, at_m, high_m = (min(max(m, 0.0), length_m) for m in (band.low_m, band.at_m, band.high_m))
    return Place(at_m, low_m, high_m, band.shares_m, dict(values), tuple(told))
