"""In which states the unit hears nothing on a stated plant, by the line model and its receiver."""

from collections.abc import Mapping

from farend_sim.situation import Situation
from farend_sim.unit.table import State


def deaf_states(situation: Situation) -> Mapping[State, str]:
    """Each state of the unit that is deaf once its contacts have settled, and why."""
    from farend_sim.bench.line_report import STATES, line_report

    deaf: dict[State, str] = {}
    for name in STATES:
        receiver = line_report(situation, name)["receiver"]
        if not receiver["hears"]:
            deaf[State(name)] = str(receiver["why"])
    if State.OPEN in deaf:
        # Attention opens the same contacts and closes none.
        deaf[State.ATTENTIVE] = deaf[State.OPEN]
    return deaf
