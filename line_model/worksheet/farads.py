"""What a pair that ends open somewhere shows as capacitance, bridged taps and frequency included.

At rest it is a sum: so many nanofarad a metre, each tap whole as soon as the open is past it. At a
frequency the far part is behind the near part and shows less: y = y0 (Y + y0 tanh) /
(y0 + Y tanh), section by section from the open end. Source: the telegrapher's equations of RC line.
"""

from cmath import sqrt, tanh
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from math import inf, pi
from typing import Literal, NamedTuple

from line_model.plant import Plant, Stretch
from line_model.worksheet.record import per_leg
from line_model.worksheet.tolerance import Pattern

Across = Literal["pair", "leg"]
"""Between the legs, both open; or the open leg to the sheath with the other leg grounded."""
_HAIR_M = 1e-9
"""So far past a place, a tap that stands there is before the open."""
_RUN_ON = 1.25
"""How far past the far end a place is looked for at a frequency, in lengths of the route. A choice,
no source."""
_LOOKS = 400
"""In how many places a route at a frequency is tried: what it shows is no longer one to one."""


class _Per(NamedTuple):
    """A metre of the pair as the meter sees it."""

    ohm: float
    henry: float
    farad: float


@dataclass(frozen=True, slots=True)
class _Run:
    """A uniform stretch from a joint or tap to the next, and the taps that hang at its start."""

    start_m: float
    length_m: float
    per: _Per
    taps: tuple[tuple[_Per, float], ...]
    """Of each tap: a metre of it, and its metres."""


@dataclass(frozen=True, slots=True)
class OpenPair:
    """The record as a capacitance meter sees it, up to an open."""

    plant: Plant
    across: Across = "pair"
    hz: float = 0.0
    factors: Pattern = ()
    """Capacitance of each section over the record's; none: as recorded."""
    _runs: list[_Run] = field(default_factory=list, init=False, compare=False)

    def __post_init__(self) -> None:
        factors = self.factors or (1.0,) * len(self.plant.section)
        start_m = 0.0
        for section, factor in zip(self.plant.section, factors, strict=True):
            end_m = start_m + section.length_m
            self._lay(self._per(section, factor), start_m, end_m, factor)
            start_m = end_m

    def nf(self, at_m: float) -> float:
        """What is shown with the open at a place [nF]; an open at a tap leaves the tap out."""
        omega = 2 * pi * self.hz
        if not omega:
            return 1e9 * sum(self._farad(run, at_m) for run in self._runs)
        there = 0j
        for run in reversed(self._runs):
            if at_m > run.start_m:
                there = _into(self._cut(run, at_m), run.per, there, omega)
                for per, length_m in run.taps:
                    there += _into(length_m, per, 0j, omega)
        return 1e9 * there.imag / omega

    @property
    def whole_nf(self) -> float:
        """What the whole pair shows, taps and all [nF]."""
        return self.nf(self.plant.length_m + _HAIR_M)

    def metres(self, nf: float) -> float:
        """Where an open shows so much: the nearest such place; infinite where there is none.

        At rest the last section runs on past its end.
        """
        length_m = self.plant.length_m
        if nf <= 0:
            return 1e-9 * nf / self._runs[0].per.farad
        if self.hz:
            return self._nearest(nf)
        if nf > self.whole_nf:
            return length_m + 1e-9 * (nf - self.whole_nf) / self._runs[-1].per.farad
        return _crossing(self.nf, nf, 0.0, length_m + _HAIR_M)

    def _nearest(self, nf: float) -> float:
        step_m = _RUN_ON * self.plant.length_m / _LOOKS
        marks = sorted({*(step_m * i for i in range(_LOOKS + 1)), *(r.start_m for r in self._runs)})
        past = next((i for i, mark in enumerate(marks) if self.nf(mark) >= nf), None)
        return inf if past is None else _crossing(self.nf, nf, marks[max(past - 1, 0)], marks[past])

    def _per(self, stretch: Stretch, factor: float) -> _Per:
        per = per_leg(stretch, self.plant)
        if self.across == "pair":
            return _Per(2 * per.leg_ohm, 2 * per.leg_henry, 1e-9 * per.pair_nf * factor)
        return _Per(per.leg_ohm, per.leg_henry, 1e-9 * per.leg_nf * factor)

    def _lay(self, per: _Per, start_m: float, end_m: float, factor: float) -> None:
        """The runs of a section: it is cut where taps stand on it."""
        last_m = inf if end_m >= self.plant.length_m else end_m
        taps = [tap for tap in self.plant.tap if start_m <= tap.at_m < last_m]
        places = sorted({start_m, *(tap.at_m for tap in taps)})
        for place, next_m in pairwise([*places, end_m]):
            hung = tuple(
                (self._per(tap, factor), tap.length_m) for tap in taps if tap.at_m == place
            )
            self._runs.append(_Run(place, next_m - place, per, hung))

    def _cut(self, run: _Run, at_m: float) -> float:
        """How much of a run is before a place; the last one runs on."""
        reach = at_m - run.start_m
        return reach if run is self._runs[-1] else min(reach, run.length_m)

    def _farad(self, run: _Run, at_m: float) -> float:
        if at_m <= run.start_m:
            return 0.0
        taps = sum(per.farad * length_m for per, length_m in run.taps)
        return self._cut(run, at_m) * run.per.farad + taps


def _into(length_m: float, per: _Per, there: complex, omega: float) -> complex:
    """The admittance into a stretch, with one at its far end [S]."""
    series, shunt = per.ohm + 1j * omega * per.henry, 1j * omega * per.farad
    own, turn = sqrt(shunt / series), tanh(sqrt(series * shunt) * length_m)
    return own * (there + own * turn) / (own + there * turn)


def _crossing(value: Callable[[float], float], wanted: float, low: float, high: float) -> float:
    """Where a rising function passes a value, between two places; at a jump, its place."""
    steps = 60
    for _ in range(steps):
        middle = (low + high) / 2
        low, high = (low, middle) if value(middle) >= wanted else (middle, high)
    return (low + high) / 2
