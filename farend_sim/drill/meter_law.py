"""How a meter's number hangs together with the volts at its own terminals, both ways.

Law: the expert compares volts at the meter's terminals, on the range that the number was read on.
There a leak is a leak and an open is the source's own voltage: nothing is infinite, and a foreign
battery that drives an ohmmeter below nought is no special case.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from farend_sim.bench.bench import instrument_error
from farend_sim.bench.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.drill.looks import Look, Setting
from farend_sim.situation import Situation
from farend_sim.unit.profile import Electrical
from line_model.equipment import NOTHING
from line_model.fan import Circuit, joined, placed, volt_across_first_two, without_last
from line_model.meters.cycle import Own
from line_model.meters.meter import MINUS, PLUS, Meter
from line_model.meters.profile import MeterProfile, Ohms, OhmsRange, Volts
from line_model.network import Mesh
from line_model.route import Route

_HERE = (PLUS, MINUS, "tip", "ring", "sheath")
_OVER = 1.1
"""A display goes this far past its full scale, as line_model/meters has it."""


def usable(profile: MeterProfile) -> bool:
    """Whether the expert knows this kind's law."""
    return isinstance(profile, Ohms | Volts)


@dataclass(frozen=True, slots=True)
class Seen:
    """A look as the expert weighs it: volts at the meter's terminals."""

    range: int
    volt: float
    sd_volt: float
    """Of the display's steps."""
    gain_volt: float
    """What the instrument's own gain, one standard deviation off, moves it by."""
    slack_volt: float
    """Anything this close is as good: what a display that is over leaves open."""


def seen(profile: MeterProfile, look: Look) -> Seen:
    """Turn a look's number into volts at the meter's terminals."""
    if look.value is None:
        return _over(profile)
    zero_ohm = _zero_ohm(profile) if look.setting.zeroed else 0.0
    at = _range(profile, look.value)
    step = _resolution(profile, at)
    spread = (look.high - look.low) / 2 if look.high is not None and look.low is not None else 0.0
    sd = np.hypot((0.5 + profile.accuracy_counts) * step / np.sqrt(3), spread)
    value = look.value + zero_ohm
    slope = _slope(profile, at, value)
    gain_sd = profile.accuracy_percent / 100 / np.sqrt(3)
    floor_volt = 1e-6
    return Seen(
        range=at,
        volt=_volt(profile, at, value),
        sd_volt=float(slope * sd + floor_volt),
        gain_volt=float(slope * value * gain_sd),
        slack_volt=0.0,
    )


def _over(profile: MeterProfile) -> Seen:
    top = len(profile.range) - 1
    if isinstance(profile, Ohms):
        of = profile.range[top]
        slack = of.source_volt * of.internal_ohm / (of.full_scale_ohm * _OVER + of.internal_ohm)
        return Seen(top, of.source_volt, 0.05 * slack, 0.0, slack)
    # a voltmeter that is over: more than its range, either way; nothing here gets there
    return Seen(top, 0.0, 1e9, 0.0, 0.0)


def _zero_ohm(profile: MeterProfile) -> float:
    if not isinstance(profile, Ohms):
        return 0.0
    step = profile.range[0].resolution_ohm
    return round(2 * profile.lead_ohm / step) * step


def _range(profile: MeterProfile, value: float) -> int:
    """The range on which a number must have been read."""
    for index, at in enumerate(profile.range):
        full = at.full_scale_ohm if isinstance(at, OhmsRange) else at.full_scale_volt
        if abs(value) <= full:
            return index
    return len(profile.range) - 1


def _resolution(profile: MeterProfile, index: int) -> float:
    at = profile.range[index]
    return at.resolution_ohm if isinstance(at, OhmsRange) else at.resolution_volt


def _volt(profile: MeterProfile, index: int, value: float) -> float:
    at = profile.range[index]
    if isinstance(at, OhmsRange):
        return at.source_volt * value / (value + at.internal_ohm)
    return value


def _slope(profile: MeterProfile, index: int, value: float) -> float:
    """Volts for each of the display's unit."""
    at = profile.range[index]
    if isinstance(at, OhmsRange):
        return abs(at.source_volt * at.internal_ohm / (value + at.internal_ohm) ** 2)
    return 1.0


def display_sd(profile: MeterProfile, volt: np.ndarray) -> np.ndarray:
    """How well volts at the terminals would be known, on the range a display would choose."""
    if not isinstance(profile, Ohms):
        full = np.array([at.full_scale_volt for at in profile.range])
        steps = np.array([at.resolution_volt for at in profile.range])
        index = np.minimum(np.searchsorted(full, np.abs(volt)), full.size - 1)
        counts = (0.5 + profile.accuracy_counts) * steps[index] / np.sqrt(3)
        return np.hypot(counts, profile.accuracy_percent / 100 / np.sqrt(3) * np.abs(volt)) + 1e-6
    return np.hypot(volt * profile.accuracy_percent / 173, 1e-4) + 1e-6


@lru_cache(maxsize=256)
def _joined(profile: MeterProfile, index: int, across: str, lead: str, of: Electrical) -> Circuit:
    """Leads, meter and clip lead: nodes plus, minus, tip, ring, sheath."""
    meter = Meter("", profile, 0.0)
    meter.clip(across)
    meter._setting = index
    near = NearEnd(lead=lead, meter=meter.parts())  # type: ignore[arg-type]
    unit = UnitOnPair(of, ground=False)
    nowhere = ("off.tip", "off.ring", "off.sheath")
    parts = wiring(Route((), nowhere, ()), unit, near, NOTHING)
    mesh = Mesh((0.0,), parts).seen_from(_HERE)
    at = tuple(_HERE.index(name) for name in mesh.nodes)
    return placed(Circuit(mesh.siemens[0].real, mesh.dc_amp[0].real), at, 5)


def terminal_volt(
    pair: Circuit, profile: MeterProfile, index: int, setting: Setting, of: Electrical
) -> np.ndarray:
    """Volts at the meter's terminals on one range, across pairs seen from their near end."""
    meter = _joined(profile, index, setting.across, setting.lead, of)
    whole = joined(placed(pair, (2, 3, 4), 5), meter)
    return np.asarray(volt_across_first_two(without_last(whole, 3)))


def read_at_rest(situation: Situation, pair: Circuit, setting: Setting) -> Look:
    """What the drill's own meter would settle to: the ranging and the display of the meter."""
    profile = situation.meters[setting.meter]
    error = instrument_error(situation.scenario.seed, setting.meter)
    assert isinstance(profile, Ohms | Volts)
    own = Own(error, setting.zeroed, setting.across)
    for index in range(len(profile.range)):
        volt = float(terminal_volt(pair, profile, index, setting, situation.unit.electrical))
        value = profile.value(index, (0.0 if np.isnan(volt) else volt,), own)
        scale = profile.scales()[index]
        if abs(value) <= scale.full:
            break
    return Look(setting=setting, value=None if scale.over(value) else value)
