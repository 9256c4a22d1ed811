"""Whether anything that the expert knows explains the readings, or it must be something else.

Law: were a suspect the truth, each reading would miss what the readings before it foretell by a
normal deviate of its own. So the worst of them is no further off than chance lets it be, or the
suspect does not explain the readings; where none does, the expert names none. What limits an error
instead of spreading it (a display's steps, an accuracy) only makes such misses rarer than that.

Source: innovations of a Kalman filter, and the bound of Bonferroni (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erfc, sqrt

from farend_sim.drill.expert.laws import Asked
from farend_sim.drill.expert.likelihood import Belief
from farend_sim.drill.expert.looks import Setting

REFUSED = 0.01
"""At most this share of pairs with a trouble that is known is said to have another one. A choice,
no source."""


@dataclass(frozen=True, slots=True)
class Misfit:
    """How ill the best of all suspects fits."""

    chance: float
    """How likely a miss as bad as its worst is, at most, if it is the truth."""
    worst: Setting | None
    """The reading that is furthest from what those before it foretell."""
    off: float
    """By how many standard deviations."""

    @property
    def explained(self) -> bool:
        """Whether the best suspect may be the truth."""
        return self.chance >= REFUSED


def misfit(beliefs: Sequence[Belief], asked: Sequence[Asked]) -> Misfit:
    """How ill the best of all suspects fits some readings."""
    if not asked:
        return Misfit(1.0, None, 0.0)
    return max((_of(belief, asked) for belief in beliefs), key=lambda one: one.chance)


def _of(belief: Belief, asked: Sequence[Asked]) -> Misfit:
    off = [abs(float(each)) for each in belief.misses]
    worst = max(range(len(off)), key=off.__getitem__)
    chance = min(1.0, len(off) * erfc(off[worst] / sqrt(2)))
    return Misfit(chance, asked[worst].setting, off[worst])
