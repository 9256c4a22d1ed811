"""A noise meter: across a terminated pair, and from both legs to the sheath, C-message weighted.

Law: circuit noise is what stands between the legs, power influence what stands from both to the
sheath, balance the difference. 0 dBrn is a picowatt. Source: Fed-Std-1037C for dBrn and dBrnC;
7 CFR 1755.403(e) for how the three hang together and for what is acceptable.
"""

from collections.abc import Hashable
from dataclasses import dataclass
from functools import lru_cache
from math import inf, log10
from typing import ClassVar, Literal

import numpy as np

from line_model.meters.cycle import Amount, Came, More, Own, Taken
from line_model.meters.decibels import Decibels
from line_model.meters.display import OVER_RANGE, Scale
from line_model.meters.leads import MINUS, PLUS, THIRD, joined, lead
from line_model.meters.ranged import mean
from line_model.parts import Part, Resistor
from line_model.plant import Above0
from line_model.signal import SAMPLE_HZ
from line_model.standing import Standing
from line_model.terminals import Terminals
from line_model.weighting import c_message_db

CENTRE = "meter.centre"
PICOWATT = 1e-12
"""0 dBrn [W]: Fed-Std-1037C."""
GOOD_DBRNC = 20.0
"""Circuit noise up to this is acceptable whatever else: 7 CFR 1755.403(e)(6)(ii)."""
GOOD_BALANCE_DB, LOUD_INFLUENCE_DBRNC = 60.0, 85.0
"""More noise is acceptable with this balance under so much power influence: the same."""


def acceptable(noise_dbrnc: float, influence_dbrnc: float) -> bool:
    """Whether a circuit's noise is acceptable. Source: 7 CFR 1755.403(e)(6)(ii)."""
    balance_db = influence_dbrnc - noise_dbrnc
    excused = balance_db >= GOOD_BALANCE_DB and influence_dbrnc >= LOUD_INFLUENCE_DBRNC
    return noise_dbrnc <= GOOD_DBRNC or excused


@lru_cache(maxsize=8)
def white_share(to_hz: float = SAMPLE_HZ / 2) -> float:
    """How much of white noise, up to a frequency, the weighting lets through [of its power]."""
    hz = np.linspace(1.0, to_hz, 4000)
    return float(np.mean([10 ** (c_message_db(each) / 10) for each in hz]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Noise(Decibels):
    """A noise meter; on both legs its third lead goes to the sheath by itself."""

    UNIT: ClassVar[str] = "dbrnc"

    kind: Literal["noise"]
    influence_ohm: Above0
    """From the middle of that resistance to the sheath."""
    most_dbrnc: Above0

    def parts(self, setting: Hashable, across: str, at: Terminals) -> tuple[Part, ...]:
        parts = (*joined(across, at, self.lead_ohm), *self.inside(setting))
        if set(across.split("-")) != {"tip", "ring"}:
            return parts
        third = lead(at.sheath, THIRD, self.lead_ohm)
        return (*parts, third, Resistor(CENTRE, THIRD, self.influence_ohm))

    def inside(self, setting: Hashable) -> tuple[Part, ...]:
        half = self.terminate_ohm / 2
        return (Resistor(PLUS, CENTRE, half), Resistor(CENTRE, MINUS, half))

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        return (
            self._weighted(standing, (PLUS, MINUS), from_us, to_us),
            self._weighted(standing, (CENTRE, THIRD), from_us, to_us),
        )

    def _weighted(
        self, standing: Standing, across: tuple[str, str], from_us: int, to_us: int
    ) -> float:
        """The weighted mean square of all that alternates [V2]."""
        sines = standing.alternating(*across, from_us, to_us)
        tones = sum(one.mean_square * 10 ** (c_message_db(one.hz) / 10) for one in sines)
        return tones + standing.noise_volt(*across) ** 2 * white_share()

    def _dbrnc(self, mean_square: complex, own: Own) -> float:
        watt = self.watt(mean_square, own)
        return max(0.0, 10 * log10(watt / PICOWATT)) if watt > 0 else 0.0

    def came(self, looks: tuple[Taken, ...], own: Own) -> Came:
        amount = mean([look.amount for look in looks])
        value, influence = (self._dbrnc(each, own) for each in amount)
        end = self._dbrnc(looks[-1].rest[0], own)
        scale, over = Scale(inf, self.resolution_db), value > self.most_dbrnc
        each = [self._dbrnc(look.amount[0], own) for look in looks]
        return Came(
            value=None if over else value,
            shown=OVER_RANGE if over else scale.shown(each, value, self.within_db),
            over=over,
            settled=abs(value - end) <= self.within_db,
            more=self._more(value, influence) if amount[1].real > 0 else (),
        )

    def _more(self, noise: float, influence: float) -> More:
        return (
            ("power_influence_dbrnc", influence),
            ("balance_db", influence - noise if influence > 0 else None),
            ("acceptable", acceptable(noise, influence)),
        )
