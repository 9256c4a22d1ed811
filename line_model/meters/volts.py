"""A voltmeter for DC: a resistance across the terminals, whose mean voltage it reads."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Annotated, ClassVar, Literal

from annotated_types import MinLen

from line_model.meters.cycle import Amount, Own
from line_model.meters.display import Scale
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.ranged import Ranged
from line_model.parts import Part, Resistor
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsRange:
    """One range: a resistance across the terminals."""

    full_scale_volt: Above0
    resolution_volt: Above0
    internal_ohm: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Voltmeter(Ranged):
    """What voltmeters of every sort have in common."""

    UNIT: ClassVar[str] = "volt"
    DRIVES: ClassVar[bool] = False

    range: Annotated[tuple[VoltsRange, ...], MinLen(1)]

    def scales(self) -> tuple[Scale, ...]:
        return tuple(Scale(at.full_scale_volt, at.resolution_volt) for at in self.range)

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        assert isinstance(setting, int)
        return (Resistor(PLUS, MINUS, self.range[setting].internal_ohm),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Volts(Voltmeter):
    """A voltmeter for DC."""

    kind: Literal["volts"]

    def value(self, at: int, amount: Amount, own: Own) -> float:
        return amount[0].real * self.gain(own)
