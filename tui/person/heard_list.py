"""What was heard at the near end, gathered: a sound that goes on is one line, not one a moment."""

from collections.abc import Iterable
from dataclasses import replace

from farend_sim.control.ear import Heard

_GOES_ON_S = 4.0
"""A sound heard again within this, in the same pattern, is the same sound [s].
A choice, no source."""
_LASTING = ("tone", "dial", "noise")
_KEEP = 60


class HeardList:
    """Sounds, newest first."""

    def __init__(self) -> None:
        self.sounds: tuple[Heard, ...] = ()
        self._last_s: dict[tuple[str, str], float] = {}

    def take(self, heard: Iterable[Heard], now_s: float) -> None:
        """Take in what the ear got until a moment."""
        for one in heard:
            key = (one.what, one.pattern)
            last_s = self._last_s.get(key)
            goes_on = one.what in _LASTING and last_s is not None
            if goes_on and last_s is not None and one.start_s - last_s <= _GOES_ON_S:
                self._louder(one)
            else:
                self.sounds = (one, *self.sounds)[:_KEEP]
            self._last_s[key] = now_s

    def _louder(self, one: Heard) -> None:
        """The same sound still: only its level may be another now."""
        self.sounds = tuple(
            replace(old, level_dbm=one.level_dbm)
            if (old.what, old.pattern) == (one.what, one.pattern)
            and abs(old.level_dbm - one.level_dbm) >= 0.5
            and old is self._newest(one)
            else old
            for old in self.sounds
        )

    def _newest(self, one: Heard) -> Heard | None:
        same = (old for old in self.sounds if (old.what, old.pattern) == (one.what, one.pattern))
        return next(same, None)
