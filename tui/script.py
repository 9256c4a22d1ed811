"""Keys that are played by themselves, one after another, at the times that were worked out.

Law: it presses what a hand could press, on the bench as it is; timers run out by themselves.
"""

from collections import deque
from collections.abc import Iterable

from farend_sim.scheme_lab.check.finding import Keyed
from tui.person.sitting import Sitting

LEAD_US = 1_000_000
"""How long a person has to look before the first key [us]. A choice, no source."""
_BY_HAND = {
    "button": "unit wake",
    "switch": "unit off",
    "cut": "unit battery out",
    "power": "unit battery in",
}
"""What a counterexample calls an act at the unit, and the helper's step that it is."""


class Script:
    """What has yet to be played."""

    def __init__(self, keyed: Iterable[Keyed] = (), what: str = "") -> None:
        self._left = deque((LEAD_US + round(each.t_s * 1e6), each.what) for each in keyed)
        self._all = len(self._left)
        self.what = what

    def play(self, sitting: Sitting, until_us: int) -> None:
        """Let time pass until a moment, and do all that is due on the way."""
        while self._left and self._left[0][0] <= until_us:
            at_us, act = self._left.popleft()
            sitting.advance(max(0, at_us - sitting.bench.now_us))
            self._do(sitting, act)
            sitting.said = f"played {self._all - len(self._left)} of {self._all}: {self.what}"
        sitting.advance(max(0, until_us - sitting.bench.now_us))

    @staticmethod
    def _do(sitting: Sitting, act: str) -> None:
        if len(act) == 1:
            sitting.press(act)
        elif act in _BY_HAND:
            sitting.do(_BY_HAND[act])
