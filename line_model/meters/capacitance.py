"""A capacitance meter: a slow alternating voltage, and what of the current is at right angles.

Law: at its frequency it reads the imaginary part of the admittance; the part in phase is a leak
and is told as loss. Hum that stands there too goes into its detector as it does in the field.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from math import inf, pi
from typing import Annotated, ClassVar, Literal

from annotated_types import MinLen

from line_model.meters.cycle import Amount, More, Own
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.ranged import Ranged
from line_model.parts import Part, Resistor
from line_model.plant import Above0
from line_model.standing import AtRest, Standing

LEAKY = "too leaky"
"""What the display says when the loss spoils the reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CapacitanceRange:
    """One range: the source behind a resistance, across the terminals."""

    full_scale_nf: Above0
    resolution_nf: Above0
    internal_ohm: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacitance(Ranged):
    """A capacitance meter."""

    UNIT: ClassVar[str] = "nf"
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE, LEAKY)

    kind: Literal["capacitance"]
    test_hz: Above0
    test_volt: Above0
    loss_limit_percent: Above0
    """With more current in phase than this, of that at right angles, it shows no number."""
    range: Annotated[tuple[CapacitanceRange, ...], MinLen(1)]

    def scales(self) -> tuple[Scale, ...]:
        return tuple(Scale(at.full_scale_nf, at.resolution_nf) for at in self.range)

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        assert isinstance(setting, int)
        return (Resistor(PLUS, MINUS, self.range[setting].internal_ohm),)

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        hums = standing.alternating(PLUS, MINUS, from_us, to_us)
        beside = sum((one.share * one.beside(self.test_hz, from_us, to_us) for one in hums), 0j)
        return (self._volt(setting, standing) + beside,)

    def at_rest(self, setting: Hashable, standing: AtRest, now_us: int) -> Amount:
        return (self._volt(setting, standing),)

    def _volt(self, setting: Hashable, standing: AtRest) -> complex:
        """What its own source leaves across the terminals, its resistance among them."""
        assert isinstance(setting, int)
        ohm = standing.impedance(PLUS, MINUS, self.test_hz) or 0j
        return self.test_volt / self.range[setting].internal_ohm * ohm

    def value(self, at: int, amount: Amount, own: Own) -> float:
        siemens = self._siemens(at, amount)
        return siemens.imag / (2 * pi * self.test_hz) * 1e9 * self.gain(own)

    def more(self, at: int, amount: Amount, own: Own) -> More:
        siemens = self._siemens(at, amount)
        parallel_ohm = 1 / siemens.real if siemens.real > 0 else None
        return ("loss_percent", 100 * _loss(siemens)), ("parallel_ohm", parallel_ohm)

    def _siemens(self, at: int, amount: Amount) -> complex:
        volt = amount[0] or 1e-12
        return (self.test_volt - volt) / (self.range[at].internal_ohm * volt)

    def words(self, at: int, amount: Amount) -> str:
        leaky = 100 * _loss(self._siemens(at, amount)) > self.loss_limit_percent
        return LEAKY if leaky else ""


def _loss(siemens: complex) -> float:
    """The current in phase, of that at right angles."""
    return abs(siemens.real / siemens.imag) if siemens.imag else inf
