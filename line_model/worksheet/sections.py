"""Section analysis: the pair opened at access points and looked at both ways.

Law: a good look clears what it sees, and a bad look says that trouble is in what it sees. What no
look clears is suspect, and where one suspect stretch alone explains a bad look, trouble is there. A
good look clears only troubles that it would show: over a long view a weak one passes the limit.
Source of the limit: 500 megohm-mile (805 megohm-km) at 68 F, 7 CFR 1755.403(c)(4).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from line_model.plant import Plant
from line_model.worksheet.band import ImpossibleReadingError, told_m
from line_model.worksheet.record import joints_m

LEAST_MEGOHM_KM = 805.0
"""Of a leg of new plant at 20 C: 7 CFR 1755.403(c)(4)(i)."""
CLEARS_TIMES = 2.0
"""A good look over so many times a bad one does not see what made it bad. A choice, no source."""
SAME_M = 1.0
"""A joint so near to an access point is that access point [m]. A choice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Insulation or ohms read one way from an access point, the pair opened there."""

    at_m: float
    toward: Literal["near", "far"]
    ohm: float
    """Infinite where the meter was over range."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch that holds trouble, or may hold it."""

    from_m: float
    to_m: float
    holds: bool
    """No other stretch explains some bad look."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A look and whether it was good."""

    look: Look
    limit_ohm: float
    good: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Analysis:
    """What the looks say together."""

    stretches: tuple[Stretch, ...]
    looks: tuple[Judged, ...]
    next_m: float | None
    """The joint that parts the longest suspect stretch best; None where it has none."""

    @property
    def both_ways_m(self) -> tuple[float, ...]:
        """The places that look bad both ways: what is wrong may be the joint itself."""
        bad = {(each.look.at_m, each.look.toward) for each in self.looks if not each.good}
        return tuple(sorted(m for m, toward in bad if toward == "near" and (m, "far") in bad))


def least_ohm(length_m: float) -> float:
    """What good insulation of a length reads at least [ohm]."""
    return LEAST_MEGOHM_KM * 1e9 / length_m


def locate(plant: Plant, looks: tuple[Look, ...], limit_ohm: float | None = None) -> Analysis:
    """Which stretches hold the trouble, from looks at several access points.

    Args:
        plant: the record.
        looks: as read; a look that sees nothing of the route (far from the far end) is refused.
        limit_ohm: good at or above; None: by the length that is seen.

    Raises:
        ImpossibleReadingError: a bad look sees only what good looks cleared.
        ValueError: a look that sees nothing.
    """
    judged = tuple(_judged(plant, look, limit_ohm) for look in looks)
    edges = sorted({0.0, plant.length_m, *(look.at_m for look in looks)})
    parts = list(pairwise(edges))
    good = [each for each in judged if each.good]
    bad = [each for each in judged if not each.good]
    left = [_left(plant, each, good, parts) for each in bad]
    # what nobody looked at is not suspect while nothing was bad
    unseen = [part for part in parts if bad and not _cleared(plant, part, good)]
    suspect = sorted({*unseen, *(part for explains in left for part in explains)})
    proved = {explains[0] for explains in left if len(explains) == 1}
    stretches = tuple(Stretch(from_m=a, to_m=b, holds=(a, b) in proved) for a, b in suspect)
    return Analysis(stretches=stretches, looks=judged, next_m=_next(plant, stretches))


Part = tuple[float, float]


def _judged(plant: Plant, look: Look, limit_ohm: float | None) -> Judged:
    start_m, end_m = _seen(plant, look)
    if end_m <= start_m:
        raise ValueError(f"a look toward the {look.toward} end from {look.at_m:g} m sees nothing")
    limit = least_ohm(end_m - start_m) if limit_ohm is None else limit_ohm
    return Judged(look=look, limit_ohm=limit, good=look.ohm >= limit)


def _seen(plant: Plant, look: Look) -> Part:
    return (0.0, look.at_m) if look.toward == "near" else (look.at_m, plant.length_m)


def _within(part: Part, view: Part) -> bool:
    return view[0] <= part[0] and part[1] <= view[1]


def _cleared(plant: Plant, part: Part, good: Sequence[Judged]) -> bool:
    return any(_within(part, _seen(plant, each.look)) for each in good)


def _left(plant: Plant, bad: Judged, good: Sequence[Judged], parts: list[Part]) -> list[Part]:
    """The parts that may explain a bad look: it sees them, and no look that would show it does."""
    would_show = [each for each in good if each.look.ohm >= CLEARS_TIMES * bad.look.ohm]
    seen = [part for part in parts if _within(part, _seen(plant, bad.look))]
    if left := [part for part in seen if not _cleared(plant, part, would_show)]:
        return left
    place = told_m(bad.look.at_m)
    raise ImpossibleReadingError(
        f"the look toward the {bad.look.toward} end from {place} is bad, and others cleared all "
        "that it sees: the trouble comes and goes, or is at the access point itself"
    )


def _next(plant: Plant, stretches: tuple[Stretch, ...]) -> float | None:
    """The joint nearest the middle of the longest stretch that has one: one that can be got at."""
    joints = [access.at_m for access in plant.access] or joints_m(plant)
    held = [each for each in stretches if each.holds] or list(stretches)
    for each in sorted(held, key=lambda each: each.from_m - each.to_m):
        inside = [m for m in joints if each.from_m + SAME_M < m < each.to_m - SAME_M]
        if inside:
            return min(inside, key=lambda m: abs(m - (each.from_m + each.to_m) / 2))
    return None
