"""What a circuit leaves of a sound: volts anywhere for a keypad's EMF, or for the sounder's."""

import numpy as np

from farend_sim.bench.pair.solved import Solved
from farend_sim.control.keypad import HIGH_HZ, KEYPAD_OHM, LOW_HZ
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.terminals import Pair


def keypad_gain(
    spell: Solved, here: Pair, across: Pair, error_percent: float
) -> dict[float, complex]:
    """Voltage across a pair of nodes over the EMF of a keypad here, at its eight tones as sent."""
    hz = tuple(f * (1 + error_percent / 100) for f in (*LOW_HZ, *HIGH_HZ))
    ohm = spell.transfer_ohm(here, across, hz)
    return {f: value / KEYPAD_OHM for f, value in ohm.items()}


def sounder_gain(
    spell: Solved, electrical: Electrical, unit_pair: Pair, across: Pair, hz: tuple[float, ...]
) -> dict[float, complex]:
    """Voltage across a pair of nodes over the unit's sounder's EMF."""
    ohm = spell.transfer_ohm(unit_pair, across, hz)
    return {
        f: value / (electrical.tone_ohm + 1 / (2j * np.pi * f * electrical.tone_farad))
        for f, value in ohm.items()
    }


def sound_hz(sound: Sound) -> tuple[float, ...]:
    """The frequencies of a sound, silence left out."""
    return tuple(sorted({segment.hz for segment in sound.segments if segment.hz > 0}))
