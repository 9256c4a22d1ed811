"""Levels on the pair as it is now: at the near end's ear, and of the keypad at the unit's receiver.

Law: read from the spell that holds, never from a model of its own; the receiver is the real one.
"""

from collections.abc import Iterable

from farend_sim.bench.hearing import Steady, keypad_gain
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.bench.wiring import KEYPAD_FARAD
from farend_sim.control.keypad import HIGH_HZ, KEYPAD_OHM, LOW_HZ, KeypadSettings, Tone
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.verdict import hears
from line_model.parts import Coupled
from line_model.signal import gain_at, power_sum_dbm, volt_to_dbm
from line_model.spell import Parts, Spell
from line_model.terminals import Pair
from line_model.weighting import c_message_db

_HUMS = ("hum", "ringing")
"""What an ear hears as weakly as the weighting says."""
_EMF_DB = 6.02
"""Open-circuit voltage over that into the source's own resistance, as the levels are stated."""


def sidetone_dbm(
    spell: Spell, here: Pair, tones: tuple[Tone, ...], error_percent: float
) -> list[float]:
    """What the technician hears of the own keypad: its tones across the pair, here [dBm]."""
    if not tones:
        return []
    gain = keypad_gain(spell, here, here, error_percent)
    return [volt_to_dbm(tone.emf_rms_volt * abs(gain_at(gain, tone.hz))) for tone in tones]


def standing_dbm(steady: Iterable[Steady], now_us: int) -> list[float]:
    """Dial tone and hum across the near pair, hum as weakly as an ear hears it [dBm]."""
    return [
        volt_to_dbm(abs(one.phasor_volt)) + (c_message_db(one.hz) if one.what in _HUMS else 0.0)
        for one in steady
        if one.start_us <= now_us
    ]


def together_dbm(levels: list[float | None]) -> float:
    """The level of what sounds at once; None is silence [dBm]."""
    return power_sum_dbm([level for level in levels if level is not None])


def with_keypad(spell: Spell, here: Pair) -> Parts:
    """The circuit that holds, with the keypad's source on the pair."""
    if any(isinstance(part, Coupled) and part.name == "keypad" for part in spell.parts):
        return spell.parts
    return (*spell.parts, Coupled(*here, KEYPAD_OHM, KEYPAD_FARAD, "keypad"))


def at_receiver(
    gains: dict[float, complex] | None, keypad: KeypadSettings, limits: ReceiverLimits
) -> ReceiverLevels:
    """Judge the keypad's gains to the unit; None where the unit is off the pair."""
    if gains is None:
        return ReceiverLevels(limits.floor_dbm, (), False, "the unit is off the pair")
    level = tuple(
        (hz, keypad.level_dbm + volt_to_dbm(abs(gain)) - volt_to_dbm(1.0) + _EMF_DB)
        for hz, gain in gains.items()
    )
    return ReceiverLevels(limits.floor_dbm, level, *hears(gains, keypad, limits))


def gains_to(spell: Spell, parts: Parts, here: Pair, unit_pair: Pair) -> dict[float, complex]:
    """Voltage across the unit over the keypad's EMF, at its eight tones."""
    ohm = spell.solved.transfer_ohm(parts, here, unit_pair, (*LOW_HZ, *HIGH_HZ))
    return {hz: value / KEYPAD_OHM for hz, value in ohm.items()}
