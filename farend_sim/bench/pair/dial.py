"""Dial tone: an office sends it while loop current flows, whoever draws that current.

Law: the current is the line's own, as the wiring gives it; a step or a scenario cannot ask for it.
"""

from farend_sim.bench.pair.solved import Solved, sent
from line_model import equipment as e
from line_model.standing import Steady
from line_model.terminals import Pair


class DialTone:
    """One office's sender, at its own two terminals."""

    def __init__(self, pair: Pair, sheath: str) -> None:
        self._pair, self._sheath = pair, sheath
        self.since_us: int | None = None
        """When the tone began, or will; None while no current flows."""

    def look(self, spell: Solved, now_us: int) -> None:
        """See whether loop current flows in a spell that has just begun."""
        if self.loop_amp(spell) < e.DIAL_AMP.value:
            self.since_us = None
        elif self.since_us is None:
            self.since_us = now_us + round(e.DIAL_AFTER_S.value * 1e6)

    def loop_amp(self, spell: Solved) -> float:
        """Loop current once the spell has settled [A]: the mean of both legs of the feed."""
        tip_volt = spell.settled(self._pair[0], self._sheath) or 0.0
        ring_volt = spell.settled(self._pair[1], self._sheath)
        ring_fed = e.FEED_VOLT.value if ring_volt is None else ring_volt
        return (ring_fed - e.FEED_VOLT.value - tip_volt) / 2 / e.FEED_OHM.value

    def across(self, spell: Solved, pair: Pair, now_us: int) -> tuple[Steady, ...]:
        """The tone as it stands across another pair of nodes; nothing while it is silent."""
        if self.since_us is None or now_us < self.since_us:
            return ()
        tones = dict.fromkeys(e.DIAL_HZ, e.DIAL_DBM.value)
        return sent("dial", tones, self._pair, spell, pair, self.since_us)
