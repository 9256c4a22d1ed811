"""How a slide is sought: the next place to try, from the looks at the detector so far.

Law: pure, and it knows no circuit. The detector falls as the share rises; what it cannot tell from
nought is nought. By secant as an instrument does it, by halving as a hand on a dial does.
"""

from dataclasses import dataclass
from typing import Literal

Seeks = Literal["secant", "halving"]
FIRST, SECOND = 0.1, 0.9
"""Where both begin: far apart, to see how much the detector tells. A choice, no source."""


@dataclass(frozen=True, slots=True)
class At:
    """A look: what share of the slide was next to the bad leg, and what the detector said [V]."""

    share: float
    volt: float


@dataclass(frozen=True, slots=True)
class Seek:
    """A way of seeking."""

    seeks: Seeks
    step: float
    """The finest step of the slide, as a share."""
    most: int
    """Looks before it is given up."""

    def next(self, looks: tuple[At, ...]) -> float | None:
        """The next share to try; None once the last is the balance, or none is to be found."""
        if len(looks) < 2:
            return (FIRST, SECOND)[len(looks)]
        if len(looks) >= self.most or looks[-1].volt == 0:
            return None
        share = self._halved(looks) if self.seeks == "halving" else self._secant(looks)
        share = min(max(round(share / self.step) * self.step, self.step), 1 - self.step)
        return None if any(abs(share - each.share) < self.step / 2 for each in looks) else share

    def best(self, looks: tuple[At, ...]) -> At:
        """The look that is nearest to balance."""
        return min(looks, key=lambda look: abs(look.volt))

    def slope(self, looks: tuple[At, ...]) -> float:
        """How much the detector falls over the whole slide [V]."""
        return (looks[0].volt - looks[1].volt) / (SECOND - FIRST)

    def _secant(self, looks: tuple[At, ...]) -> float:
        a, b = sorted(looks, key=lambda look: abs(look.volt))[:2]
        return (
            a.share
            if a.volt == b.volt
            else a.share - a.volt * (b.share - a.share) / (b.volt - a.volt)
        )

    def _halved(self, looks: tuple[At, ...]) -> float:
        low = max((look.share for look in looks if look.volt > 0), default=0.0)
        high = min((look.share for look in looks if look.volt < 0), default=1.0)
        return (low + high) / 2
