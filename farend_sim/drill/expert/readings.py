"""Looks as the expert weighs them: each in its law's own quantity, with how sure it is."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.forecast import Forecast
from farend_sim.drill.expert.laws import Asked, Seen
from farend_sim.drill.expert.looks import Look
from line_model.parts import Real


@dataclass(frozen=True, slots=True)
class Readings:
    """The looks as the expert weighs them, each in its law's own quantity."""

    asked: tuple[Asked, ...]
    value: Real
    sd: Real
    slack: Real
    gain: Real
    """What each instrument's gain moves: (M, instruments)."""


def readings(forecast: Forecast, looks: Sequence[Look]) -> Readings:
    """Looks in their laws' own quantities; those that tell nothing are left out."""
    each: list[tuple[Look, Seen]] = []
    for look in looks:
        law = forecast.meters.get(look.setting.meter)
        if law is not None and (seen := law.seen(look)) is not None:
            each.append((look, seen))
    names = sorted({look.setting.meter for look, _ in each})
    gain = np.zeros((len(each), len(names)))
    for row, (look, one) in enumerate(each):
        gain[row, names.index(look.setting.meter)] = one.gain
    return Readings(
        asked=tuple(Asked(look.setting, one.range) for look, one in each),
        value=np.array([one.value for _, one in each]),
        sd=np.array([one.sd for _, one in each]),
        slack=np.array([one.slack for _, one in each]),
        gain=gain,
    )
