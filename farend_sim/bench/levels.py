"""Levels on the pair as it is now: at the near end's ear, and of the keypad at the unit's receiver.

Law: read from the spell that holds, never from a model of its own; the receiver is the real one.
"""

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.pair.wiring import keypad_at
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.bench.sound.far_ear import gain_left
from farend_sim.bench.sound.gains import keypad_gain
from farend_sim.bench.sound.received import gain_to, received
from farend_sim.control.keypad import Burst
from farend_sim.control.steady import loud_dbm
from line_model.signal import power_sum_dbm, volt_to_dbm
from line_model.spell import Parts, Spell
from line_model.still import Phasors
from line_model.terminals import Pair


class ReceiverLevel:
    """What is left of a scenario's keypad at the unit's receiver; solved once a wiring."""

    def __init__(self) -> None:
        self._known: dict[tuple[Parts, Pair, bool, float], ReceiverLevels] = {}

    def now(self, bench: Bench) -> ReceiverLevels:
        """As the pair and the unit are at this moment."""
        pair, left = bench.pair, gain_left(bench.unit)
        here, keypad = pair.here.pair, bench.situation.scenario.keypad
        known = pair.spell.parts, here, pair.unit_on, left
        if (levels := self._known.get(known)) is None:
            gains = _gains(pair, here, left) if pair.unit_on else None
            levels = received(gains, keypad, bench.far_ear.receiver.limits)
            self._known[known] = levels
        return levels


def ear_dbm(bench: Bench) -> float:
    """The level at the near end's ear at this moment: the own keys, and what comes back [dBm]."""
    here, now_us = bench.pair.here.pair, bench.now_us
    own = _sidetone_dbm(bench.pair.spell, here, bench.keypad.burst(now_us))
    stands = [loud_dbm(one) for one in bench.pair.steady(here, now_us) if one.start_us <= now_us]
    levels = [*own, *stands, bench.ear.level_dbm(now_us), bench.ear.noise_dbm]
    return power_sum_dbm([level for level in levels if level is not None])


def _sidetone_dbm(spell: Spell, here: Pair, burst: Burst | None) -> list[float]:
    """What the technician hears of the own keypad: its tones across the pair, here [dBm]."""
    if burst is None:
        return []
    gain = keypad_gain(spell, here, here, burst.sent_hz)
    return [volt_to_dbm(tone.emf_rms_volt * abs(gain[tone.hz])) for tone in burst.tones]


def _gains(pair: LivePair, here: Pair, left: float) -> Phasors:
    """From a keypad here to the unit, in the circuit that holds."""
    keypad, still = keypad_at(here), pair.spell.solved.still
    bare = tuple(part for part in pair.spell.parts if part != keypad)
    gains = gain_to(still(bare), still((*bare, keypad)), here, pair.unit_pair)
    return {hz: left * gain for hz, gain in gains.items()}
