"""The meters at hand: the one that is clipped on, and what it has been handed so far.

Law: it is handed what stood across it only at a spell's or a stage's end, so that slicing time
cannot change a sum.
"""

from farend_sim.situation import Situation
from line_model.meters.instrument import instrument_error
from line_model.meters.meter import Meter
from line_model.parts import Part
from line_model.standing import Standing
from line_model.terminals import Terminals


class AtHand:
    """Every meter of a bench by its name, one at most on the pair."""

    def __init__(self, situation: Situation, standing: Standing) -> None:
        seed = situation.scenario.seed
        self.meters = {
            name: Meter(name, profile, instrument_error(seed, name))
            for name, profile in situation.meters.items()
        }
        self.meter: Meter | None = None
        self.read_us: int | None = None
        """When the last stage of a cycle was over."""
        self._standing, self._measured_us = standing, 0

    @property
    def deadline_us(self) -> int | None:
        """When the meter next wants attention."""
        return self.meter.deadline_us if self.meter else None

    def parts(self, at: Terminals) -> tuple[Part, ...]:
        """What the meter is to the pair as it is set now."""
        return self.meter.parts(at) if self.meter else ()

    def clip(self, name: str, across: str) -> None:
        """Clip a meter across two terminals, another one first taken off."""
        self.meter = self.meters[name]
        self.meter.clip(across)

    def unclip(self) -> None:
        """Take the meter off."""
        self.meter = None

    def moved(self) -> None:
        """Its leads are elsewhere: it has no reading yet."""
        if self.meter:
            self.meter.clip(self.meter.across)
            self.meter.reading = None

    def switched(self) -> None:
        """Something on the pair has switched, and not the meter's own doing."""
        if self.meter:
            self.meter.switched()

    def measure(self, now_us: int) -> None:
        """Hand the meter what has stood across it since it was last handed anything."""
        if self.meter and self.meter.attends and now_us > self._measured_us:
            self.meter.take(self._standing, self._measured_us, now_us)
        self._measured_us = now_us

    def wake(self, now_us: int) -> None:
        """Go on to the meter's next stage."""
        assert self.meter is not None
        self.measure(now_us)
        self.meter.wake(now_us, self._standing)
        self.read_us = now_us
