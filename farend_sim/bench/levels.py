"""Levels on the pair as it is now: at the near end's ear, and of the keypad at the unit's receiver.

Law: read from the spell that holds, never from a model of its own; the receiver is the real one.
"""

from collections.abc import Iterable

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.pair.wiring import KEYPAD_FARAD
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.bench.sound.far_ear import gain_left
from farend_sim.bench.sound.gains import keypad_gain
from farend_sim.control.keypad import HIGH_HZ, KEYPAD_OHM, LOW_HZ, KeypadSettings, Tone
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.played import hears
from line_model.parts import Coupled
from line_model.signal import gain_at, power_sum_dbm, volt_to_dbm
from line_model.spell import Parts, Spell
from line_model.standing import Steady
from line_model.terminals import Pair
from line_model.weighting import c_message_db

_HUMS = ("hum", "ringing")
"""What an ear hears as weakly as the weighting says."""
_EMF_DB = 6.02
"""Open-circuit voltage over that into the source's own resistance, as the levels are stated."""


class ReceiverLevel:
    """What is left of a scenario's keypad at the unit's receiver; solved once a wiring."""

    def __init__(self) -> None:
        self._known: dict[tuple[Parts, float], ReceiverLevels] = {}

    def now(self, bench: Bench) -> ReceiverLevels:
        """As the pair and the unit are at this moment."""
        pair, left = bench.pair, gain_left(bench.unit)
        parts, keypad = _with_keypad(pair.spell, pair.here.pair), bench.situation.scenario.keypad
        if (levels := self._known.get((parts, left))) is None:
            gains = _gains(pair, parts, left) if pair.unit_on else None
            levels = self._known[parts, left] = _judged(
                gains, keypad, bench.far_ear.receiver.limits
            )
        return levels


def ear_dbm(bench: Bench) -> float:
    """The level at the near end's ear at this moment: the own keys, and what comes back [dBm]."""
    here, keypad, now_us = bench.pair.here.pair, bench.keypad, bench.now_us
    own = _sidetone_dbm(bench.pair.spell, here, keypad.tones(now_us), keypad.error_percent)
    stands = _standing_dbm(bench.pair.steady(here, now_us), now_us)
    levels = [*own, *stands, bench.ear.level_dbm(now_us), bench.ear.noise_dbm]
    return power_sum_dbm([level for level in levels if level is not None])


def _sidetone_dbm(
    spell: Spell, here: Pair, tones: tuple[Tone, ...], error_percent: float
) -> list[float]:
    """What the technician hears of the own keypad: its tones across the pair, here [dBm]."""
    if not tones:
        return []
    gain = keypad_gain(spell, here, here, error_percent)
    return [volt_to_dbm(tone.emf_rms_volt * abs(gain_at(gain, tone.hz))) for tone in tones]


def _standing_dbm(steady: Iterable[Steady], now_us: int) -> list[float]:
    """Dial tone and hum across the near pair, hum as weakly as an ear hears it [dBm]."""
    return [
        volt_to_dbm(abs(one.phasor_volt)) + (c_message_db(one.hz) if one.what in _HUMS else 0.0)
        for one in steady
        if one.start_us <= now_us
    ]


def _with_keypad(spell: Spell, here: Pair) -> Parts:
    """The circuit that holds, with the keypad's source on the pair."""
    if any(isinstance(part, Coupled) and part.name == "keypad" for part in spell.parts):
        return spell.parts
    return (*spell.parts, Coupled(*here, KEYPAD_OHM, KEYPAD_FARAD, "keypad"))


def _judged(
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


def _gains(pair: LivePair, parts: Parts, left: float) -> dict[float, complex]:
    """Voltage across the unit over the keypad's EMF, at its eight tones."""
    hz = (*LOW_HZ, *HIGH_HZ)
    ohm = pair.spell.solved.still(parts).transfer_ohm(pair.here.pair, pair.unit_pair, hz)
    return {f: left * (value / KEYPAD_OHM) for f, value in ohm.items()}
