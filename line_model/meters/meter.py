"""A near-end meter at work in time: clipped on, handed what stands across it, read.

Law: it is pure, with time and what stands as arguments. A cycle's stages are its kind's; what
happens on the pair meanwhile is in the reading. `deadline_us` says when it next wants attention.
"""

from line_model.meters.cycle import Amount, Came, Do, MeterFile, Own, Reading, Stage, Taken
from line_model.parts import Part
from line_model.standing import Standing
from line_model.terminals import NEAR, Terminals


class Meter:
    """One meter, clipped to terminals of the pair."""

    def __init__(self, name: str, profile: MeterFile, error: float) -> None:
        """Take the meter in hand.

        Args:
            name: as the scenario calls it.
            profile: its file.
            error: this instrument's own error, -1 to 1 of its stated accuracy.
        """
        self.name, self.profile = name, profile
        self.reading: Reading | None = None
        self.across = ""
        self._error, self._zeroed = error, False
        self._setting = profile.REST
        self._do: Do | None = None
        self._spoiled = False
        self._taken: tuple[Taken, ...] = ()
        self._sum: Amount = ()
        self._rest()

    # -- on the pair ---------------------------------------------------------------------------

    def clip(self, across: str) -> None:
        """Put the leads on: `tip-ring`, `tip+ring-sheath`, or a bridge's `bad=tip good=ring`."""
        self.across = across
        self._setting = self.profile.REST
        self._rest()

    def parts(self, at: Terminals = NEAR) -> tuple[Part, ...]:
        """What the meter, clipped at some terminals, is to the pair as it is set now."""
        return self.profile.parts(self._setting, self.across, at)

    def zero(self) -> bool:
        """Touch the leads together and take them off later readings; False if it cannot."""
        self._zeroed = self._zeroed or self.profile.ZEROES
        return self.profile.ZEROES

    # -- in time -------------------------------------------------------------------------------

    def start(self, now_us: int) -> None:
        """Begin a measuring cycle."""
        self._rest()
        self.reading = None
        self._go_on(now_us)

    @property
    def stage(self) -> Stage:
        return self._do.stage if self._do else Stage.REST

    @property
    def stage_s(self) -> float:
        """How long the stage lasts that it is in [s]."""
        return self._do.seconds if self._do else 0.0

    @property
    def attends(self) -> bool:
        """Whether what stands across it now goes into a reading."""
        return self._do is not None and self._do.takes

    @property
    def live(self) -> str:
        """What the display shows in mid-cycle, if anything."""
        return self.profile.live(self._taken, self._own) if self._do else ""

    def take(self, standing: Standing, from_us: int, to_us: int) -> None:
        """Take in what stood across it over a time."""
        amount = self.profile.probe(self._setting, standing, from_us, to_us)
        known = self._sum or (0.0,) * len(amount)
        span_us = to_us - from_us
        self._sum = tuple(k + one * span_us for k, one in zip(known, amount, strict=True))
        self._span_us += span_us

    def switched(self) -> None:
        """Something on the pair has switched, and not the meter's own doing."""
        self._spoiled = self._spoiled or (self._do is not None and self._do.firm)

    def wake(self, now_us: int, standing: Standing) -> None:
        """Go on to the next stage."""
        if self._do is None:
            return
        amount = tuple(one / self._span_us for one in self._sum) if self._span_us else ()
        rest = self.profile.at_rest(self._setting, standing, now_us) if self._do.takes else ()
        self._taken = (*self._taken, Taken(self._do, amount, rest))
        self._go_on(now_us)

    @property
    def _own(self) -> Own:
        return Own(self._error, self._zeroed, self.across)

    def _rest(self) -> None:
        self._do, self._taken = None, ()
        self.deadline_us: int | None = None
        self._spoiled = False
        self._sum, self._span_us = (), 0

    def _go_on(self, now_us: int) -> None:
        next_one = self.profile.doing(self._taken, self._own)
        if isinstance(next_one, Came):
            self.reading = self._read(next_one)
            self._setting = self.profile.REST if self.profile.GOES_BACK else self._setting
            self._rest()
            return
        self._do = next_one
        self._setting = self._setting if next_one.setting is None else next_one.setting
        self.deadline_us = now_us + round(next_one.seconds * 1e6)
        self._sum, self._span_us = (), 0

    def _read(self, came: Came) -> Reading:
        return Reading(
            meter=self.name,
            across=self.across,
            value=came.value,
            unit=self.profile.UNIT,
            over=came.over,
            shown=came.shown,
            settled=came.settled and not self._spoiled,
            more=came.more,
        )
