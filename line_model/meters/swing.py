"""A needle behind a battery and a reversing key: its kick follows the charge of the pair.

Law: the needle's own motion is the reading. The battery is put on and the needle comes to rest;
then the key is reversed, the pair's charge turns over, and twice the first charge kicks it.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from itertools import pairwise
from math import pi
from typing import Annotated, ClassVar, Literal

from annotated_types import Gt, Lt

from line_model.meters.cycle import Amount, Came, Do, MeterFile, Own, Pace, Reading, Stage, Taken
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS, joined
from line_model.meters.needle import Needle
from line_model.parts import Part, Resistor, Source
from line_model.plant import Above0
from line_model.standing import AtRest, Standing
from line_model.terminals import Terminals

SLICE_S = 0.02
"""The needle is followed in slices of this, short beside its period [s]. A choice, no source."""
OFF_SCALE = "off the scale"
FULL = 100.0
"""Divisions of a dead short: common practice, no source."""
KEY_OPEN_OHM = 1e9
"""Of a key between its contacts: invented for the demo."""
SLOW_HZ = 1.0
"""At rest, the charge to come is told by the admittance at this frequency [Hz]."""
_MARKS = 18


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing(MeterFile):
    """A swing meter. In its cycle, `settle_s` is before the key is reversed, `sample_s` behind."""

    UNIT: ClassVar[str] = "division"
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE, OFF_SCALE)
    STAGES: ClassVar[tuple[Stage, ...]] = (Stage.HANDS, Stage.SWING)
    REST: ClassVar[Hashable] = "open"
    GOES_BACK: ClassVar[bool] = True

    kind: Literal["swing"]
    battery_volt: Above0
    coil_ohm: Above0
    """The coil and what is in series with it."""
    period_s: Above0
    damping: Annotated[float, Gt(0), Lt(1)]
    resolution_division: Above0
    cycle: Pace

    def parts(self, setting: Hashable, across: str, at: Terminals) -> tuple[Part, ...]:
        """Reversing the key changes the leads over, so that the needle always kicks upwards."""
        plus, minus = across.split("-")
        turned = f"{minus}-{plus}" if setting == "reversed" else across
        return (*joined(turned, at, self.lead_ohm), *self.inside(setting))

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        if setting == "open":
            return (Resistor(PLUS, MINUS, KEY_OPEN_OHM),)
        return (Source(PLUS, MINUS, self.battery_volt, self.coil_ohm),)

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        return standing.mean(PLUS, MINUS, from_us, to_us) or 0.0, 0.0

    def at_rest(self, setting: Hashable, standing: AtRest, now_us: int) -> Amount:
        """The settled voltage, and beside it the capacitance whose charge is still to come."""
        ohm = standing.impedance(PLUS, MINUS, SLOW_HZ)
        siemens = 0j if ohm is None else 1 / ohm
        return standing.settled(PLUS, MINUS) or 0.0, siemens.imag / (2 * pi * SLOW_HZ)

    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        before, behind = self._slices(self.cycle.settle_s), self._slices(self.cycle.sample_s)
        if not taken:
            return Do(Stage.HANDS, self.cycle.hands_s, "open")
        if len(taken) > before + behind:
            return self._came(taken[1:], before, own)
        setting = "on" if len(taken) <= before else "reversed"
        return Do(Stage.SWING, SLICE_S, setting, takes=True, firm=True)

    def within(self, reading: Reading) -> float:
        return self._within

    @property
    def _within(self) -> float:
        return self.off(FULL, self.resolution_division)

    def live(self, taken: tuple[Taken, ...], own: Own) -> str:
        """The needle on its scale."""
        at = self._track(taken[1:], own)[-1] if len(taken) > 1 else 0.0
        mark = round(_MARKS * min(max(at / FULL, 0.0), 1.0))
        return "0 " + "-" * mark + "|" + "-" * (_MARKS - mark) + f" {FULL:.0f}"

    def _slices(self, seconds: float) -> int:
        return max(1, round(seconds / SLICE_S))

    def _track(self, swings: tuple[Taken, ...], own: Own) -> list[float]:
        """Where the needle stands after each slice [divisions]."""
        per_volt = FULL / self.battery_volt * self.gain(own)
        inputs = [per_volt * (self.battery_volt - each.amount[0].real) for each in swings]
        for i, charge in self._charges(swings):
            inputs[i] += per_volt * self.coil_ohm * charge / SLICE_S
        return list(Needle(self.period_s, self.damping).follow(inputs, SLICE_S))

    def _charges(self, swings: tuple[Taken, ...]) -> list[tuple[int, float]]:
        """Of a pair at rest: the charge that flows at each turn of the key [C]; in time, none."""
        set_to = [swing.do.setting for swing in swings]
        turns = [0, *(i for i, (a, b) in enumerate(pairwise(set_to), 1) if a != b)]
        charges = []
        for i in turns:
            before_volt = -swings[i - 1].amount[0].real if i else 0.0
            moved_volt = swings[i].amount[0].real - before_volt
            charges.append((i, swings[i].amount[1].real * moved_volt))
        return charges

    def _came(self, swings: tuple[Taken, ...], before: int, own: Own) -> Came:
        track = self._track(swings, own)
        kick, rest = max(track[before:]), track[-1]
        end = FULL * self.gain(own) * (1 - swings[-1].rest[0].real / self.battery_volt)
        scale = Scale(FULL, self.resolution_division)
        over = scale.over(kick)
        return Came(
            value=None if over else kick,
            shown=OFF_SCALE if over else scale.digits(kick),
            over=over,
            settled=abs(rest - end) <= self._within,
            more=(
                ("first_kick_division", max(track[:before])),
                ("rest_division", rest),
                ("rest_ohm", self._rest_ohm(rest)),
            ),
        )

    def _rest_ohm(self, rest: float) -> float | None:
        """The resistance that the needle comes to rest on; None where it rests at nought."""
        return None if rest <= self._within else self.coil_ohm * (FULL / rest - 1)
