"""A near-end meter at work: pure, with time and the mean of its terminals' voltage as arguments.

A reading goes through stages: hands, one range stage for each range tried, settling, and a
sampling stage in which the display is written several times. What happens on the pair meanwhile is
in it. `deadline_us` says when the meter next wants attention; it has no clock.
"""

from dataclasses import dataclass
from enum import Enum
from math import floor, isfinite, log10, sqrt

from line_model.meters.profile import AcVolts, MeterProfile, Ohms, OhmsRange, VoltsRange
from line_model.parts import Part, Resistor, Source
from line_model.terminals import NEAR, Terminals

PLUS, MINUS = "meter.plus", "meter.minus"
CLIP_LEAD_OHM = 0.05
"""A short clip lead [ohm]: common practice, no source."""


class Stage(Enum):
    REST = "rest"
    HANDS = "hands"
    RANGE = "range"
    SETTLE = "settle"
    SAMPLE = "sample"


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of a measuring cycle. `value` is None over range."""

    meter: str
    across: str
    value: float | None
    unit: str
    over: bool
    shown: str
    settled: bool
    """Nothing switched while sampling, and the value is within accuracy of its end value."""


class Meter:
    """One meter, clipped across two terminals of the pair's near end."""

    def __init__(self, name: str, profile: MeterProfile, error: float) -> None:
        """Take the meter in hand.

        Args:
            name: as the scenario calls it.
            profile: its file.
            error: this instrument's own gain error, -1 to 1 of its stated accuracy.
        """
        self.name, self.profile = name, profile
        self._gain = 1 + error * profile.accuracy_percent / 100
        self.across = ""
        self._range = 0
        self._zero_ohm = 0.0
        self._switched = False
        self._rest()
        self.reading: Reading | None = None

    # -- on the pair ---------------------------------------------------------------------------

    def clip(self, across: str) -> None:
        """Put the leads on two terminals, such as `tip-ring` or `tip+ring-sheath`."""
        self.across = across
        self._range = 0
        self._rest()

    def parts(self, at: Terminals = NEAR) -> tuple[Part, ...]:
        """What the meter, clipped at some terminals, is to the pair: leads and what is inside."""
        plus, minus = (
            [at.node(name) for name in side.split("+")] for side in self.across.split("-")
        )
        # no lead at all is a milliohm: beside less, insulation would lose its digits in time
        lead = max(self.profile.lead_ohm, 1e-3)
        joined = [
            Resistor(plus[0], PLUS, lead),
            Resistor(minus[0], MINUS, lead),
        ]
        for first, *others in (plus, minus):
            joined += [Resistor(first, other, CLIP_LEAD_OHM) for other in others]
        return (*joined, self._inside())

    def _inside(self) -> Part:
        at = self.profile.range[self._range]
        if isinstance(at, OhmsRange):
            return Source(PLUS, MINUS, at.source_volt, at.internal_ohm)
        return Resistor(PLUS, MINUS, at.internal_ohm)

    # -- in time -------------------------------------------------------------------------------

    def start(self, now_us: int) -> None:
        """Begin a measuring cycle."""
        self.reading = None
        self._enter(Stage.HANDS, now_us, self.profile.cycle.hands_s)

    def stop(self) -> None:
        """Give the cycle up."""
        self._rest()

    @property
    def progress(self) -> tuple[Stage, int | None]:
        """The stage and when it ends [us]."""
        return self.stage, self.deadline_us

    @property
    def attends(self) -> bool:
        """Whether what stands across the terminals now goes into a reading."""
        return self.stage in (Stage.RANGE, Stage.SAMPLE)

    @property
    def alternating(self) -> bool:
        """Whether it takes the mean square of what alternates, and not the mean [V2, V]."""
        return isinstance(self.profile, AcVolts)

    def take(self, mean: float | None, span_us: int) -> None:
        """Take in the mean voltage across PLUS and MINUS over a time, or its mean square."""
        self._volt_us += (mean or 0.0) * span_us
        self._span_us += span_us

    def switched(self) -> None:
        """Something on the pair has switched."""
        self._switched = self._switched or self.stage is Stage.SAMPLE

    def wake(self, now_us: int, settled: float | None) -> None:
        """Go on to the next stage. `settled`: where PLUS to MINUS will end, as in `take`."""
        cycle = self.profile.cycle
        if self.stage is Stage.HANDS:
            self._range = 0
            self._enter(Stage.RANGE, now_us, cycle.range_s)
        elif self.stage is Stage.RANGE:
            self._choose_range(now_us)
        elif self.stage is Stage.SETTLE:
            self._enter(Stage.SAMPLE, now_us, cycle.sample_s / cycle.looks)
        elif self.stage is Stage.SAMPLE:
            self._look(now_us, settled)

    def _rest(self) -> None:
        self.stage = Stage.REST
        self.deadline_us: int | None = None
        self._looks: list[float] = []
        self._switched = False
        self._volt_us, self._span_us = 0.0, 0

    def _enter(self, stage: Stage, now_us: int, seconds: float) -> None:
        self._rest()
        self.stage = stage
        self.deadline_us = now_us + round(seconds * 1e6)

    def _choose_range(self, now_us: int) -> None:
        cycle = self.profile.cycle
        top = self._range == len(self.profile.range) - 1
        if not top and abs(self._value(self._volt_us / self._span_us)) > self._full_scale:
            self._range += 1
            self._enter(Stage.RANGE, now_us, cycle.range_s)
        else:
            self._enter(Stage.SETTLE, now_us, cycle.settle_s)

    def _look(self, now_us: int, settled: float | None) -> None:
        self._looks.append(self._volt_us / self._span_us)
        self._volt_us, self._span_us = 0.0, 0
        if len(self._looks) < self.profile.cycle.looks:
            look_us = round(self.profile.cycle.sample_s / self.profile.cycle.looks * 1e6)
            self.deadline_us = now_us + look_us
            return
        self.reading = self._read(settled)
        self._rest()

    # -- what it says --------------------------------------------------------------------------

    def zero(self) -> bool:
        """Touch the leads together and take them off later readings; False for a voltmeter."""
        if isinstance(self.profile, Ohms):
            step = self.profile.range[0].resolution_ohm
            self._zero_ohm = round(2 * self.profile.lead_ohm / step) * step
            return True
        return False

    @property
    def unit(self) -> str:
        return "ohm" if isinstance(self.profile, Ohms) else "volt"

    @property
    def _full_scale(self) -> float:
        at = self.profile.range[self._range]
        return at.full_scale_volt if isinstance(at, VoltsRange) else at.full_scale_ohm

    @property
    def _resolution(self) -> float:
        at = self.profile.range[self._range]
        return at.resolution_volt if isinstance(at, VoltsRange) else at.resolution_ohm

    def _value(self, volt: float) -> float:
        if self.alternating:
            return sqrt(max(volt, 0.0)) * self._gain
        at = self.profile.range[self._range]
        if isinstance(at, VoltsRange):
            return volt * self._gain
        short = at.source_volt - volt
        ohm = at.internal_ohm * volt / short if short else float("inf")
        return ohm * self._gain - self._zero_ohm

    def _accuracy(self, value: float) -> float:
        """How far a reading may be off."""
        profile = self.profile
        counts = profile.accuracy_counts * self._resolution
        return abs(value) * profile.accuracy_percent / 100 + counts

    def _read(self, settled: float | None) -> Reading:
        value = self._value(sum(self._looks) / len(self._looks))
        end = self._value(settled or 0.0)
        within = isfinite(end) and abs(value - end) <= self._accuracy(end)
        near_end = within or self._is_over(value, end)
        over = self._over(value)
        return Reading(
            meter=self.name,
            across=self.across,
            value=None if over else value,
            unit=self.unit,
            over=over,
            shown=self._shown(value),
            settled=not self._switched and near_end,
        )

    def _over(self, value: float) -> bool:
        return not isfinite(value) or abs(value) > self._full_scale * 1.1

    def _is_over(self, value: float, end: float) -> bool:
        return self._over(value) and self._over(end)

    def _shown(self, value: float) -> str:
        """The display: digits, `over`, or the two ends between which it wanders."""
        looks = [self._value(volt) for volt in self._looks]
        low, high = min(looks), max(looks)
        if all(self._over(look) for look in looks):
            return "over"
        steady = high - low <= self._accuracy(value)
        return self._digits(value) if steady else f"{self._digits(low)} .. {self._digits(high)}"

    def _digits(self, value: float) -> str:
        if self._over(value):
            return "over"
        step = self._resolution
        places = max(0, -floor(log10(step) + 1e-9))
        text = f"{round(value / step) * step:.{places}f}"
        return text.lstrip("-") if float(text) == 0 else text
