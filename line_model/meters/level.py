"""A level meter: ends the pair in its own resistance and reads what arrives, in dBm and as loss.

Law: of looks that are shorter than a burst it shows the loudest, so a tone with gaps reads as loud
as a steady one. Loss is against what the sender is set to, and told near the sender's frequency.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from math import inf, log10
from typing import ClassVar, Literal

from line_model.meters.cycle import Amount, Came, Own, Taken
from line_model.meters.decibels import Decibels
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS
from line_model.parts import Part, Resistor
from line_model.plant import Above0, AtLeast0
from line_model.standing import Standing

NEAR_SHARE = 0.02
"""A tone off the sender's by less than this of it is taken for it. Invented for the demo."""
UNDER = "under range"


@dataclass(frozen=True, slots=True, kw_only=True)
class Level(Decibels):
    """A level meter."""

    UNIT: ClassVar[str] = "dbm"
    WORDS: ClassVar[tuple[str, ...]] = (OVER_RANGE, UNDER)

    kind: Literal["level"]
    from_hz: AtLeast0
    """What is below is filtered off: power hum."""
    least_dbm: float
    most_dbm: float
    sent_dbm: float
    """What a sender at the far end is set to, into its own resistance."""
    sent_hz: Above0

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        return (Resistor(PLUS, MINUS, self.terminate_ohm),)

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        """The mean square, and its mean frequency times itself: a counter's view of it."""
        sines = [
            one
            for one in standing.alternating(PLUS, MINUS, from_us, to_us)
            if one.hz >= self.from_hz
        ]
        tones = sum((one.mean_square for one in sines), 0.0)
        turns = sum((one.mean_square * one.hz for one in sines), 0.0)
        return tones + standing.noise_volt(PLUS, MINUS) ** 2, tones, turns

    def _dbm(self, amount: Amount, own: Own) -> float:
        watt = self.watt(amount[0], own)
        return 10 * log10(watt / 1e-3) if watt > 0 else -inf

    def came(self, looks: tuple[Taken, ...], own: Own) -> Came:
        loudest = max(looks, key=lambda look: look.amount[0].real)
        value = self._dbm(loudest.amount, own)
        if not value >= self.least_dbm:
            return Came(None, UNDER)
        agree = sum(value - self._dbm(look.amount, own) <= self.within_db for look in looks)
        over = value > self.most_dbm
        return Came(
            value=None if over else value,
            shown=OVER_RANGE if over else Scale(inf, self.resolution_db).digits(value),
            over=over,
            settled=agree >= min(2, len(looks)),
            more=() if over else self._more(loudest.amount, value),
        )

    def _more(self, amount: Amount, value: float) -> tuple[tuple[str, float], ...]:
        """The frequency where a tone stands out, and the loss where it is the sender's."""
        total, tones, turns = (each.real for each in amount)
        if tones < total / 2:
            return ()
        hz = turns / tones
        if abs(hz - self.sent_hz) > NEAR_SHARE * self.sent_hz:
            return (("hz", hz),)
        return ("hz", hz), ("loss_db", self.sent_dbm - value)
