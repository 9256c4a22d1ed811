"""Meters that range by themselves: hands, a look on each range tried, settling, then the display.

Law: whatever is read is the mean of what was taken while sampling; a range is left upwards alone.
"""

from abc import abstractmethod
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from functools import partial
from math import isfinite
from typing import ClassVar

from line_model.meters.cycle import (
    Amount,
    Came,
    Do,
    MeterFile,
    More,
    Own,
    Pace,
    Reading,
    Stage,
    Taken,
)
from line_model.meters.display import Scale
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cycle(Pace):
    """The measuring cycle in stages; a reading takes them all, `range_s` once a range tried."""

    range_s: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranged(MeterFile):
    """A meter with ranges; the range it is on is how it is set."""

    STAGES: ClassVar[tuple[Stage, ...]] = (Stage.HANDS, Stage.RANGE, Stage.SETTLE, Stage.SAMPLE)

    cycle: Cycle

    @abstractmethod
    def scales(self) -> tuple[Scale, ...]:
        """Each range's full scale and step."""

    @abstractmethod
    def value(self, at: int, amount: Amount, own: Own) -> float:
        """What it makes of what it took."""

    def more(self, at: int, amount: Amount, own: Own) -> More:
        """Further figures of the reading."""
        return ()

    def words(self, at: int, amount: Amount) -> str:
        """What the display says in the place of a number, if anything."""
        return ""

    def accuracy(self, at: int, value: float) -> float:
        """How far a reading may be off."""
        return self.off(value, self.scales()[at].step)

    def within(self, reading: Reading) -> float:
        value = reading.value or 0.0
        scales = self.scales()
        on = next((i for i, each in enumerate(scales) if each.full >= abs(value)), len(scales) - 1)
        return self.accuracy(on, value)

    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        if not taken:
            return Do(Stage.HANDS, self.cycle.hands_s)
        last = taken[-1]
        at = _range_of(last.do.setting)
        if last.do.stage is Stage.HANDS:
            return Do(Stage.RANGE, self.cycle.range_s, 0, takes=True)
        if last.do.stage is Stage.RANGE:
            return self._ranged(at, last, own)
        if sum(each.do.stage is Stage.SAMPLE for each in taken) < self.cycle.looks:
            return Do(Stage.SAMPLE, self.cycle.look_s, at, takes=True, firm=True)
        return self._came(at, taken[-self.cycle.looks :], own)

    def _ranged(self, at: int, last: Taken, own: Own) -> Do:
        top = at == len(self.scales()) - 1
        if not top and abs(self.value(at, last.amount, own)) > self.scales()[at].full:
            return Do(Stage.RANGE, self.cycle.range_s, at + 1, takes=True)
        return Do(Stage.SETTLE, self.cycle.settle_s, at)

    def _came(self, at: int, looks: tuple[Taken, ...], own: Own) -> Came:
        scale = self.scales()[at]
        amount = mean([look.amount for look in looks])
        if words := self.words(at, amount):
            return Came(None, words, more=self.more(at, amount, own))
        value, end = self.value(at, amount, own), self.value(at, looks[-1].rest, own)
        each = [self.value(at, look.amount, own) for look in looks]
        more = () if scale.over(value) else self.more(at, amount, own)
        return told(scale, each, value, end, partial(self.accuracy, at), more)


def told(
    scale: Scale,
    looks: Sequence[float],
    value: float,
    end: float,
    accuracy: Callable[[float], float],
    more: More,
) -> Came:
    """What a display says.

    Args:
        scale: its range.
        looks: what was seen, one after another.
        value: what is read of it all.
        end: where it will end.
        accuracy: how far a value may be off.
        more: further figures.
    """
    over = scale.over(value)
    near_end = isfinite(end) and abs(value - end) <= accuracy(end)
    return Came(
        value=None if over else value,
        shown=scale.shown(looks, value, accuracy(value)),
        over=over,
        settled=near_end or (over and scale.over(end)),
        more=more,
    )


def mean(amounts: list[Amount]) -> Amount:
    """The mean of amounts that were taken over equal times."""
    return tuple(sum(each) / len(amounts) for each in zip(*amounts, strict=True))


def _range_of(setting: Hashable) -> int:
    return setting if isinstance(setting, int) else 0
