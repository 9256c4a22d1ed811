"""An ohmmeter: a source behind a resistance; it reads internal_ohm v / (source - v)."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from annotated_types import MinLen

from line_model.meters.cycle import Amount, Own
from line_model.meters.display import Scale
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.ranged import Ranged
from line_model.parts import Part, Source
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class OhmsRange:
    """One range: a source behind a resistance, across the terminals."""

    full_scale_ohm: Above0
    resolution_ohm: Above0
    internal_ohm: Above0
    source_volt: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ohms(Ranged):
    """An ohmmeter."""

    UNIT: ClassVar[str] = "ohm"
    ZEROES: ClassVar[bool] = True

    kind: Literal["ohms"]
    range: Annotated[tuple[OhmsRange, ...], MinLen(1)]

    def scales(self) -> tuple[Scale, ...]:
        return tuple(Scale(at.full_scale_ohm, at.resolution_ohm) for at in self.range)

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        assert isinstance(setting, int)
        at = self.range[setting]
        return (Source(PLUS, MINUS, at.source_volt, at.internal_ohm),)

    def value(self, at: int, amount: Amount, own: Own) -> float:
        on, volt = self.range[at], amount[0].real
        short = on.source_volt - volt
        ohm = on.internal_ohm * volt / short if short else float("inf")
        return ohm * self.gain(own) - self._zero_ohm(own)

    def _zero_ohm(self, own: Own) -> float:
        """What the leads read when they are touched together, on the finest range."""
        step = self.range[0].resolution_ohm
        return round(2 * self.lead_ohm / step) * step if own.zeroed else 0.0
