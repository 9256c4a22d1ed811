"""What a line leaves of a keypad at the unit's receiver, and whether that hears it.

Law: one sum of levels and one verdict, the receiver's own, whoever asks: panel, report or lab.
"""

from farend_sim.bench.pair.solved import Solved
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.bench.sound.gains import keypad_gain
from farend_sim.control.keypad import TONES_HZ, KeypadSettings
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.played import hears
from line_model.signal import dbm_to_volt, volt_to_dbm
from line_model.still import Phasors
from line_model.terminals import Pair

EMF_DB = 6.02
"""Open-circuit voltage over that into the source's own resistance, as the levels are stated."""


def gain_to(
    bare: Solved, keyed: Solved, here: Pair, unit_pair: Pair, hz: tuple[float, ...] = TONES_HZ
) -> Phasors:
    """Voltage across the unit over the EMF of a keypad here; 0 where no path leads there.

    Args:
        bare: the circuit without the keypad.
        keyed: with it.
        here: where it is joined.
        unit_pair: the nodes of the unit's own tip and ring.
        hz: the frequencies.
    """
    # where nothing joins the legs here no current flows, and what is left is rounding
    seen = bare.transfer_ohm(here, here, hz)
    return {f: g if seen[f] else 0j for f, g in keypad_gain(keyed, here, unit_pair, hz).items()}


def levels(gains: Phasors | None, keypad: KeypadSettings) -> tuple[tuple[float, float | None], ...]:
    """Each of a keypad's tones [Hz] and its level at the unit; None where no path leads there."""
    known = gains or dict.fromkeys(TONES_HZ, 0j)
    return tuple((hz, _level_dbm(gain, keypad.tone_dbm(hz))) for hz, gain in known.items())


def received(
    gains: Phasors | None, keypad: KeypadSettings, limits: ReceiverLimits
) -> ReceiverLevels:
    """Levels and verdict.

    Args:
        gains: from the keypad to the unit, at its eight tones; None with the unit off the pair.
        keypad: how its keys sound.
        limits: the receiver's.
    """
    if gains is None:
        verdict: tuple[bool, str | None] = False, "the unit is off the pair"
    elif not all(gains.values()):
        verdict = False, "no path leads from the keypad to the unit"
    else:
        verdict = hears(gains, keypad, limits)
    return ReceiverLevels(limits.floor_dbm, levels(gains, keypad), *verdict)


def _level_dbm(gain: complex, sent_dbm: float) -> float | None:
    return volt_to_dbm(abs(gain) * dbm_to_volt(sent_dbm + EMF_DB)) if gain else None
