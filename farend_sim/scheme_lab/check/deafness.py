"""In which states the unit hears nothing on a stated plant, by the line model and its receiver.

Law: a state is judged by its contacts once they have settled. Before that a reply sounds, and some
contacts open before others close; keys that fall into it may be lost, but it passes by itself, so
that no command is out of reach for it. How often keys do fall there, a trial counts: it plays reply
and contacts as they come.
"""

from collections.abc import Mapping

from farend_sim.bench.line_report import receiver_of
from farend_sim.situation import Situation
from farend_sim.unit.table import STATES, State


def deaf_states(situation: Situation) -> Mapping[State, str]:
    """Each state of the unit that is deaf once its contacts have settled, and why."""
    deaf: dict[State, str] = {}
    for name in STATES:
        receiver = receiver_of(situation, name)
        if receiver.why is not None:
            deaf[State(name)] = receiver.why
    if State.OPEN in deaf:
        # Attention opens the same contacts and closes none.
        deaf[State.ATTENTIVE] = deaf[State.OPEN]
    return deaf
