"""Keys as the unit gets them in one state, as samples: for files, plots and other decoders.

Law: the wiring, the front end and the noise are the bench's own; the state is held throughout, so
what is keyed does not change the line.
"""

from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.sound.far_ear import heard_by
from farend_sim.control.keypad import Keypad
from farend_sim.situation import Situation
from farend_sim.unit.codes import compiled
from farend_sim.unit.effects import Sound
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.keying import keys_for
from farend_sim.unit.table import SETTLED, State
from line_model.signal import SAMPLE_US, Samples

LEAD_US = 500_000
"""Recorded before the first key and behind the last [us]. A choice, no source."""


def record(situation: Situation, state: str, keys: str) -> Samples:
    """Return what stands across the unit's receiver while keys are sent [V]."""
    scenario, at_unit = situation.scenario, State(state)
    pair = LivePair(scenario, situation.unit.electrical)
    pair.set(closed=SETTLED[at_unit], keypad=True, meter=())
    pair.begin_spell(0)
    keypad = Keypad()
    keypad.press(keys, LEAD_US, scenario.keypad)
    ends_us = (keypad.ends_us or LEAD_US) + LEAD_US
    sound = tone_of(situation) if at_unit is State.TONE else None
    hears = heard_by(pair, scenario, situation.unit.receiver, LEAD_US)
    return hears.samples((0, ends_us), keypad.to_come(0), sound)[0]


def tone_of(situation: Situation) -> Sound | None:
    """Return the tone state's own sound: a unit is sent there by the scheme's own command."""
    scheme = compiled(situation.scheme)
    unit = Unit(scheme, situation.unit.timing, situation.unit.electrical.tone_hz)
    for key in scheme.knock + keys_for(scheme, scheme.of("tone")):
        unit.handle(DigitHeard(key), SAMPLE_US)
    while unit.hold_deadline_us is None and unit.deadline_us is not None:
        unit.wake(unit.deadline_us)
    return unit.sound
