"""An insulation tester: a test voltage behind a limiting resistance, read a stated time after it.

Law: it looks for foreign voltage first, charges the pair, reads, and discharges what it charged.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from math import isfinite
from typing import Annotated, ClassVar, Literal

from annotated_types import MinLen

from line_model.meters import foreign
from line_model.meters.cycle import Amount, Came, Do, MeterFile, Own, Pace, Reading, Stage, Taken
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.ranged import mean, told
from line_model.parts import Part, Resistor, Source
from line_model.plant import Above0
from line_model.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class InsulationRange:
    """One range of the display; the circuit is the same on all of them."""

    full_scale_ohm: Above0
    resolution_ohm: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class InsulationCycle(Pace):
    """`settle_s` is how long the pair is charged before the display is written."""

    check_s: Above0
    """A look for foreign voltage [s]."""
    discharge_s: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation(MeterFile):
    """An insulation tester; its voltage is dangerous."""

    UNIT: ClassVar[str] = "ohm"
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE, foreign.FOREIGN)
    STAGES: ClassVar[tuple[Stage, ...]] = (
        Stage.HANDS,
        Stage.CHECK,
        Stage.CHARGE,
        Stage.SAMPLE,
        Stage.DISCHARGE,
    )
    REST: ClassVar[Hashable] = "off"
    GOES_BACK: ClassVar[bool] = True

    kind: Literal["insulation"]
    cycle: InsulationCycle
    test_volt: Above0
    limit_ohm: Above0
    """In series with the test voltage."""
    idle_ohm: Above0
    """What it is to the pair before the press: a voltmeter."""
    discharge_ohm: Above0
    foreign_volt: Above0
    """From so much on, it refuses to test."""
    range: Annotated[tuple[InsulationRange, ...], MinLen(1)]

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        if setting == "test":
            return (Source(PLUS, MINUS, self.test_volt, self.limit_ohm),)
        ohm = self.discharge_ohm if setting == "discharge" else self.idle_ohm
        return (Resistor(PLUS, MINUS, ohm),)

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        if setting == "off":
            return foreign.seen(standing, ((PLUS, MINUS),), from_us, to_us)
        return MeterFile.probe(self, setting, standing, from_us, to_us)

    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        last = taken[-1] if taken else None
        if last and last.do.stage is Stage.CHECK:
            foreign_came = foreign.refused(last.amount, self.foreign_volt)
            if foreign_came is not None:
                return foreign_came
        plan = self._plan
        return plan[len(taken)] if len(taken) < len(plan) else self._came(taken, own)

    @property
    def _plan(self) -> tuple[Do, ...]:
        """All that it does on a pair without foreign voltage."""
        cycle = self.cycle
        charge = Do(Stage.CHARGE, cycle.settle_s / cycle.looks, "test", takes=True)
        return (
            Do(Stage.HANDS, cycle.hands_s),
            Do(Stage.CHECK, cycle.check_s, "off", takes=True),
            *cycle.looks * (charge,),
            *cycle.looks * (Do(Stage.SAMPLE, cycle.look_s, "test", takes=True, firm=True),),
            Do(Stage.DISCHARGE, cycle.discharge_s, "discharge"),
        )

    def within(self, reading: Reading) -> float:
        return self._accuracy(reading.value or 0.0)

    def live(self, taken: tuple[Taken, ...], own: Own) -> str:
        """The climb, while the pair charges."""
        if taken and taken[-1].do.stage is Stage.CHARGE:
            ohm = self._ohm(taken[-1].amount, own)
            return f"{ohm / 1e6:.4g} megohm and climbing"
        return ""

    def _came(self, taken: tuple[Taken, ...], own: Own) -> Came:
        looks = [each for each in taken if each.do.stage is Stage.SAMPLE]
        first = next(each for each in taken if each.do.stage is Stage.CHARGE)
        value = self._ohm(mean([look.amount for look in looks]), own)
        end = self._ohm(looks[-1].rest, own)
        each = [self._ohm(look.amount, own) for look in looks]
        more = ("after_s", self.cycle.settle_s), ("early_ohm", self._early(first, own))
        return told(self._scale(value), each, value, end, self._accuracy, more)

    def _early(self, first: Taken, own: Own) -> float | None:
        """What it showed at the first look of the climb; None over range."""
        ohm = self._ohm(first.amount, own)
        return None if self._scale(ohm).over(ohm) else ohm

    def _ohm(self, amount: Amount, own: Own) -> float:
        volt = amount[0].real
        short = self.test_volt - volt
        return self.limit_ohm * volt / short * self.gain(own) if short > 0 else float("inf")

    def _scale(self, ohm: float) -> Scale:
        """The finest range that shows a value."""
        on = next((r for r in self.range if abs(ohm) <= r.full_scale_ohm), self.range[-1])
        return Scale(on.full_scale_ohm, on.resolution_ohm)

    def _accuracy(self, ohm: float) -> float:
        return self.off(ohm, self._scale(ohm).step) if isfinite(ohm) else 0.0
