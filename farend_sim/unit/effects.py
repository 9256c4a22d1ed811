"""What the unit does to the world: contacts and sounds, described and never performed here.

Law: a sound is one effect and a function of time from its start. The unit is not woken at every
beep of a tone that lasts minutes, and slicing time differently cannot change what is heard.
"""

from dataclasses import dataclass, field

from farend_sim.unit.contacts import Closed


@dataclass(frozen=True, slots=True)
class Segment:
    """One stretch of a sound at one frequency."""

    hz: float
    """0 is silence."""
    duration_us: int


@dataclass(frozen=True, slots=True)
class ContactsSet:
    """From now on exactly these contacts are closed."""

    closed: Closed


@dataclass(frozen=True, slots=True)
class Voice:
    """What sounds, with no start yet: a whole reply, or all of the tone state."""

    segments: tuple[Segment, ...]
    repeat: bool = False
    """From the first segment again, until something else sounds or silence falls: the tone."""

    @property
    def duration_us(self) -> int:
        """How long one round of the segments takes."""
        return sum(segment.duration_us for segment in self.segments)


@dataclass(frozen=True, slots=True)
class Sound(Voice):
    """A voice from a moment on; it takes the place of whatever sounded before."""

    start_us: int = field(kw_only=True)

    def hz_at(self, now_us: int) -> float:
        """Return what sounds at a moment: 0 in gaps, before the start and after the end."""
        since_us = now_us - self.start_us
        if since_us < 0 or (not self.repeat and since_us >= self.duration_us):
            return 0.0
        since_us %= self.duration_us
        for segment in self.segments:
            if since_us < segment.duration_us:
                return segment.hz
            since_us -= segment.duration_us
        return 0.0


@dataclass(frozen=True, slots=True)
class Silence:
    """Whatever sounded has stopped."""


Effect = ContactsSet | Sound | Silence
Effects = tuple[Effect, ...]
