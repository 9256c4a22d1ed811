"""A bridge for resistive trouble: a slide across bad and good leg, its battery to the sheath.

Law: it really balances. The slide is set again and again by what its detector saw over real time,
so what disturbs the pair meanwhile is in the reading. At balance the slide is divided as the loop
is by the trouble. Source of the hook-up: A. L. Albert, Electrical Communication: Murray's loop.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from math import isfinite
from typing import Annotated, ClassVar, Literal

from annotated_types import Ge, Gt, Lt

from line_model.meters import foreign
from line_model.meters.cycle import (
    Amount,
    Came,
    Do,
    MeterFile,
    More,
    Own,
    Pace,
    Reading,
    Stage,
    Taken,
)
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS, THIRD, hookup, lead
from line_model.meters.seek import At, Seek, Seeks
from line_model.parts import Part, Resistor, Source
from line_model.plant import Above0
from line_model.standing import Standing
from line_model.terminals import Terminals

WIPER = "meter.wiper"
NO_LOOP = "no loop"
NO_BALANCE = "no balance"
_TO_SHEATH = ((PLUS, THIRD), (MINUS, THIRD))
IDLE_OHM = 10e6
"""From each leg to the sheath while it only looks for foreign voltage [ohm]: common practice, no
source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeCycle(Pace):
    """`settle_s` and `sample_s` are those of one step of the slide."""

    check_s: Above0
    """A look for foreign voltage [s]."""
    loop_s: Above0
    """A look at the loop's resistance, before the balance and behind it [s]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bridge(MeterFile):
    """A bridge. Its accuracy is in percent of the loop."""

    UNIT: ClassVar[str] = "ohm"
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE, NO_LOOP, NO_BALANCE, foreign.FOREIGN)
    HOOKUP: ClassVar[Literal["two", "bad-good"]] = "bad-good"
    ZEROES: ClassVar[bool] = True
    STAGES: ClassVar[tuple[Stage, ...]] = (
        Stage.HANDS,
        Stage.CHECK,
        Stage.LOOP,
        Stage.SETTLE,
        Stage.SAMPLE,
    )
    REST: ClassVar[Hashable] = "off"
    GOES_BACK: ClassVar[bool] = True

    kind: Literal["bridge"]
    cycle: BridgeCycle
    test_volt: Above0
    battery_ohm: Above0
    slide_ohm: Above0
    slide_step: Annotated[float, Gt(0), Lt(0.1)]
    """The slide's finest step, as a share of it."""
    detector_ohm: Above0
    detector_volt: Above0
    """The least that the detector tells from nought."""
    seeks: Seeks
    most_steps: Annotated[int, Ge(3)]
    loop_volt: Above0
    loop_internal_ohm: Above0
    full_scale_ohm: Above0
    """The longest loop that it measures."""
    resolution_ohm: Above0
    foreign_volt: Above0
    """From so much on, it refuses."""

    # -- what it is to the pair ----------------------------------------------------------------

    def parts(self, setting: Hashable, across: str, at: Terminals) -> tuple[Part, ...]:
        bad, good = hookup(across)
        leads = zip((at.node(bad), at.node(good), at.sheath), (PLUS, MINUS, THIRD), strict=True)
        return (*(lead(*ends, self.lead_ohm) for ends in leads), *self.inside(setting))

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        if isinstance(setting, float):
            return self._slide(setting)
        idle = Resistor(PLUS, THIRD, IDLE_OHM), Resistor(MINUS, THIRD, IDLE_OHM)
        if setting == "loop":
            return (*idle, Source(PLUS, MINUS, self.loop_volt, self.loop_internal_ohm))
        return idle

    def _slide(self, share: float) -> tuple[Part, ...]:
        return (
            Resistor(PLUS, WIPER, share * self.slide_ohm),
            Resistor(WIPER, MINUS, (1 - share) * self.slide_ohm),
            Source(WIPER, THIRD, self.test_volt, self.battery_ohm),
            Resistor(PLUS, MINUS, self.detector_ohm),
        )

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        if setting == "off":
            return foreign.seen(standing, _TO_SHEATH, from_us, to_us)
        return MeterFile.probe(self, setting, standing, from_us, to_us)

    # -- its cycle -----------------------------------------------------------------------------

    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        cycle = self.cycle
        if not taken:
            return Do(Stage.HANDS, cycle.hands_s)
        last = taken[-1]
        if last.do.stage is Stage.HANDS:
            return Do(Stage.CHECK, cycle.check_s, "off", takes=True)
        if last.do.stage is Stage.CHECK:
            loop = Do(Stage.LOOP, cycle.loop_s, "loop", takes=True, firm=True)
            return foreign.refused(last.amount, self.foreign_volt) or loop
        if last.do.stage is Stage.LOOP:
            return self._after_loop(taken, own)
        if last.do.stage is Stage.SETTLE:
            return Do(Stage.SAMPLE, cycle.sample_s, last.do.setting, takes=True, firm=True)
        share = self._seek.next(self._looks(taken))
        if share is None:
            return Do(Stage.LOOP, cycle.loop_s, "loop", takes=True, firm=True)
        return Do(Stage.SETTLE, cycle.settle_s, share, firm=True)

    def live(self, taken: tuple[Taken, ...], own: Own) -> str:
        """Where the slide stands, and what the detector saw last."""
        looks = self._looks(taken)
        if not looks:
            return ""
        return f"slide {looks[-1].share:.4f}, detector {looks[-1].volt * 1e3:+.2f} mV"

    def _after_loop(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        loop_ohm = self._loop_ohm(taken[-1].amount, own)
        if not 0 <= loop_ohm <= self.full_scale_ohm:
            return Came(None, NO_LOOP)
        looks = self._looks(taken)
        if not looks:
            share = self._seek.next(())
            return Do(Stage.SETTLE, self.cycle.settle_s, share, firm=True)
        return self._balanced(taken, looks, loop_ohm, own)

    @property
    def _seek(self) -> Seek:
        return Seek(self.seeks, self.slide_step, self.most_steps)

    def _looks(self, taken: tuple[Taken, ...]) -> tuple[At, ...]:
        return tuple(
            At(each.do.setting, self._seen(each.amount[0].real))
            for each in taken
            if each.do.stage is Stage.SAMPLE and isinstance(each.do.setting, float)
        )

    def _seen(self, volt: float) -> float:
        """What the detector makes of a voltage."""
        return round(volt / self.detector_volt) * self.detector_volt

    def _loop_ohm(self, amount: Amount, own: Own) -> float:
        """The loop with both leads, by this instrument."""
        volt = amount[0].real
        short = self.loop_volt - volt
        ohm = self.loop_internal_ohm * volt / short if short > 0 else float("inf")
        return ohm * (1 + self._half(own))

    def _half(self, own: Own) -> float:
        """Half of its accuracy is the loop's, half the slide's."""
        return own.error * self.accuracy_percent / 200

    # -- what it says --------------------------------------------------------------------------

    def _balanced(
        self, taken: tuple[Taken, ...], looks: tuple[At, ...], whole_ohm: float, own: Own
    ) -> Came:
        best, slope = self._seek.best(looks), self._seek.slope(looks)
        telling = slope * self.accuracy_percent / 100 >= self.detector_volt
        if not telling or abs(best.volt) > slope * self.accuracy_percent / 100:
            return Came(None, NO_BALANCE, more=(("loop_ohm", whole_ohm),))
        lead_ohm = self.lead_ohm if own.zeroed else 0.0
        fraction = best.share + self._half(own)
        value = fraction * whole_ohm - lead_ohm
        end = next(t.rest[0].real for t in reversed(taken) if t.do.setting == best.share)
        off = abs(end) / slope * whole_ohm
        return Came(
            value=value,
            shown=Scale(self.full_scale_ohm, self.resolution_ohm).digits(value),
            settled=isfinite(off) and off <= self.accuracy_ohm(whole_ohm),
            more=self._more(value, fraction, whole_ohm - 2 * lead_ohm, own),
        )

    def _more(self, value: float, fraction: float, loop_ohm: float, own: Own) -> More:
        figures: More = (("fraction", fraction), ("loop_ohm", loop_ohm))
        if set(hookup(own.across)) != {"tip", "ring"}:
            return figures  # of a good pair of its own it does not know the leg
        return (*figures, ("to_strap_ohm", loop_ohm / 2 - value))

    def within(self, reading: Reading) -> float:
        loop_ohm = dict(reading.more).get("loop_ohm")
        return self.accuracy_ohm(loop_ohm if isinstance(loop_ohm, float) else 0.0)

    def accuracy_ohm(self, loop_ohm: float) -> float:
        """How far the ohms to the trouble may be off."""
        return self.off(loop_ohm, self.resolution_ohm)
