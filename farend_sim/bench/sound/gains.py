"""What a circuit leaves of a sound: volts anywhere for a keypad's EMF, or for the sounder's."""

import numpy as np

from farend_sim.bench.pair.solved import Solved
from farend_sim.control.keypad import KEYPAD_OHM
from farend_sim.unit.effects import Sound
from farend_sim.unit.profile import Electrical
from line_model.still import Phasors
from line_model.terminals import Pair


def keypad_gain(spell: Solved, here: Pair, across: Pair, hz: tuple[float, ...]) -> Phasors:
    """Voltage across a pair of nodes over the EMF of a keypad here."""
    ohm = spell.transfer_ohm(here, across, hz)
    return {f: value / KEYPAD_OHM for f, value in ohm.items()}


def sounder_gain(
    spell: Solved, electrical: Electrical, unit_pair: Pair, across: Pair, hz: tuple[float, ...]
) -> Phasors:
    """Voltage across a pair of nodes over the unit's sounder's EMF."""
    ohm = spell.transfer_ohm(unit_pair, across, hz)
    return {
        f: value / (electrical.tone_ohm + 1 / (2j * np.pi * f * electrical.tone_farad))
        for f, value in ohm.items()
    }


def sound_hz(sound: Sound) -> tuple[float, ...]:
    """The frequencies of a sound, silence left out."""
    return tuple(sorted({segment.hz for segment in sound.segments if segment.hz > 0}))
