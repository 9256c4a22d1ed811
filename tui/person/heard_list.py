"""What was heard at the near end, gathered: a sound that goes on is one line, not one a moment."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from farend_sim.control.ear import Heard

_GOES_ON_S = 4.0
"""A sound heard again within this, in the same pattern, is the same sound [s].
A choice, no source."""
_LASTING = ("tone", "dial", "noise")
_KEEP = 60


@dataclass(frozen=True, slots=True)
class Listed:
    """A sound, and for how long it was there."""

    heard: Heard
    last_s: float
    """By when it was heard last [s]."""
    over: bool = False
    """Whether it lasted and is no longer there."""

    def is_still(self, one: Heard) -> bool:
        """Whether this is the same sound, going on."""
        same = (self.heard.what, self.heard.pattern) == (one.what, one.pattern)
        return same and one.what in _LASTING and one.start_s - self.last_s <= _GOES_ON_S

    def again(self, one: Heard, now_s: float) -> "Listed":
        """The same sound still: only its level may be another now."""
        louder = abs(self.heard.level_dbm - one.level_dbm) >= 0.5
        level_dbm = one.level_dbm if louder else self.heard.level_dbm
        return Listed(replace(self.heard, level_dbm=level_dbm), now_s)

    def at(self, now_s: float) -> "Listed":
        """It as it is known at a later moment."""
        silent = self.heard.what in _LASTING and now_s - self.last_s > _GOES_ON_S
        return replace(self, over=True) if silent and not self.over else self


class HeardList:
    """Sounds, newest first."""

    def __init__(self) -> None:
        self.sounds: tuple[Listed, ...] = ()

    def take(self, heard: Iterable[Heard], now_s: float) -> None:
        """Take in what the ear got until a moment."""
        for one in heard:
            still = next((old for old in self.sounds if old.is_still(one)), None)
            if still is None:
                self.sounds = (Listed(one, now_s), *self.sounds)[:_KEEP]
            else:
                again = still.again(one, now_s)
                self.sounds = tuple(again if old is still else old for old in self.sounds)
        self.sounds = tuple(old.at(now_s) for old in self.sounds)
