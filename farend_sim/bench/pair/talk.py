"""Talk on a neighbour pair: a steady murmur that its near end sends, as dial tone is sent.

Law: how loud it is elsewhere is the line's own; only what is sent is stated here.
"""

from farend_sim.bench.pair.solved import Solved, sent
from line_model.neighbours import Laid
from line_model.standing import Steady
from line_model.terminals import Pair

TALK_DBM = {400.0: -10.0, 900.0: -14.0, 1800.0: -20.0}
"""Three tones in the place of speech, each into its own termination [dBm]: a loud talker; most of
speech's power lies below 1 kHz. Common practice, no source."""


def talk(laid: Laid, spell: Solved, across: Pair) -> tuple[Steady, ...]:
    """What a neighbour's talk puts across a pair of nodes; nothing of one that is not talking."""
    if laid.pair.state != "talking":
        return ()
    return sent("talk", TALK_DBM, laid.near.pair, spell, across)
