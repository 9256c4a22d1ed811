"""A voltmeter for AC: reads the true rms value of what alternates."""

from collections.abc import Hashable
from dataclasses import dataclass
from math import sqrt
from typing import Literal

from line_model.meters.cycle import Amount, Own
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.volts import Voltmeter
from line_model.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class AcVolts(Voltmeter):
    """A voltmeter for AC."""

    kind: Literal["ac-volts"]

    def probe(self, setting: Hashable, standing: Standing, from_us: int, to_us: int) -> Amount:
        sines = standing.alternating(PLUS, MINUS, from_us, to_us)
        return (sum((sine.mean_square for sine in sines), 0.0),)

    def value(self, at: int, amount: Amount, own: Own) -> float:
        return sqrt(max(amount[0].real, 0.0)) * self.gain(own)
