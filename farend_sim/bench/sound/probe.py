"""The tone probe at a block: what it gets of the unit's tone at any post, pair by pair.

Law: the circuit is the bench's own with one neighbour more, the one at the post, solved at the
tone's frequencies alone. Looking changes nothing: the probe loads no pair, and no spell ends.
"""

from dataclasses import dataclass
from typing import Literal

from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.sound.gains import sound_hz, sounder_gain
from farend_sim.unit.effects import Sound
from line_model.knees import at_rest
from line_model.parts import Resistor
from line_model.signal import volt_to_dbm
from line_model.still import Still
from line_model.terminals import Terminals

Across = Literal["tip-ring", "tip-sheath", "ring-sheath"]

PINCH_OHM = 0.5
"""Two wires pressed together between finger and thumb [ohm]: common practice, no source."""
LEAST_DBM = -75.0
"""Under this a probe sounds nothing. Invented for the demo."""
_WORDS = ((-25.0, "full"), (-55.0, "thin"), (LEAST_DBM, "a trace"))
"""What a probe sounds like, from which level on [dBm]. Invented for the demo."""


@dataclass(frozen=True, slots=True)
class Probed:
    """What a probe gets."""

    level_dbm: float | None
    """None: nothing."""
    sounds: str


SILENT = Probed(None, "nothing")


def probed(pair: LivePair, sound: Sound | None, name: str, pinched: bool) -> dict[Across, Probed]:
    """What the probe gets of a pair at the block, by where it is held.

    Args:
        pair: the pair as it is now.
        sound: what the unit sounds.
        name: of the pair at the post.
        pinched: its legs are pressed together there.
    """
    places: tuple[Across, ...] = ("tip-ring", "tip-sheath", "ring-sheath")
    if sound is None or not sound.repeat or not pair.unit_on:
        return dict.fromkeys(places, SILENT)
    parts, terminals = pair.with_neighbour(name)
    if pinched:
        parts = (*parts, Resistor(terminals.tip, terminals.ring, PINCH_OHM))
    still = Still(at_rest(parts))
    return {place: _held(pair, sound, still, place, terminals) for place in places}


def _held(pair: LivePair, sound: Sound, still: Still, place: Across, at: Terminals) -> Probed:
    """At the tone's loudest frequency."""
    plus, minus = (at.node(name) for name in place.split("-"))
    of = pair.unit.electrical
    gain = sounder_gain(still, of, pair.unit_pair, (plus, minus), sound_hz(sound))
    level_dbm = max(volt_to_dbm(of.tone_volt * abs(value)) for value in gain.values())
    sounds = next((word for least_dbm, word in _WORDS if level_dbm >= least_dbm), None)
    return SILENT if sounds is None else Probed(level_dbm, sounds)
