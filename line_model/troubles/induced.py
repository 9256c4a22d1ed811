"""Voltage that power lines induce along a pair."""

from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le

from line_model.troubles.base import Base, Number


@dataclass(frozen=True, slots=True, kw_only=True)
class Harmonic:
    """A multiple of the induced frequency."""

    order: Annotated[int, Ge(2), Le(30)]
    percent: Annotated[float, Gt(0), Le(100)]
    """Of the fundamental."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Induction(Base):
    """Longitudinal voltage along both legs alike, evenly from end to end, net of shielding.

    It drives nothing at 0 Hz; line_model/induction.py puts it on the legs.
    """

    ABOUT = "hum from a power line"

    kind: Literal["induction"]
    rms_volt: Annotated[float, Gt(0), Le(1e5)]
    hz: Annotated[float, Ge(10), Le(400)] = 60.0
    """Of the power net: 60 in North America, common practice, no source [Hz]."""
    harmonics: tuple[Harmonic, ...] = ()

    @property
    def numbers(self) -> tuple[Number, ...]:
        return ((self.rms_volt, "V rms"),)

    def components(self) -> tuple[tuple[float, float], ...]:
        """Each frequency and its rms voltage from end to end [Hz, V]."""
        parts = [(self.hz * h.order, self.rms_volt * h.percent / 100) for h in self.harmonics]
        return ((self.hz, self.rms_volt), *parts)
