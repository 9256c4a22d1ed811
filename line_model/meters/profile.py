"""Near-end meters as files: what a meter puts on the pair, how long it takes, how well it reads.

To add a kind: one class here (its file) and its law in line_model/meters/meter.py.
"""

from dataclasses import dataclass, field
from typing import Annotated, Literal

from annotated_types import Ge, Gt, MinLen

from line_model.plant import Above0, AtLeast0

Count = Annotated[int, Ge(0)]


@dataclass(frozen=True, slots=True, kw_only=True)
class OhmsRange:
    """One range: a source behind a resistance, across the terminals."""

    full_scale_ohm: Above0
    resolution_ohm: Above0
    internal_ohm: Above0
    source_volt: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsRange:
    """One range: a resistance across the terminals."""

    full_scale_volt: Above0
    resolution_volt: Above0
    internal_ohm: Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cycle:
    """The measuring cycle in stages; a reading takes them all, `range_s` once a range tried."""

    hands_s: AtLeast0
    """Until the person has pressed and the meter has begun [s]."""
    range_s: Above0
    settle_s: Above0
    sample_s: Above0
    looks: Annotated[int, Gt(0)] = 4
    """How often the display is written during the sampling stage."""
    reach_s: AtLeast0 = 0.0
    """From the contact's close to the hands at the meter, before `hands_s`: the hold lab's [s]."""
    hands_log_sd: AtLeast0 = 0.0
    """Spread of the person's part from try to try, of its logarithm: the hold lab's."""
    job_log_sd: AtLeast0 = 0.0
    """Likewise from job to job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Meter:
    """What every meter's file says."""

    format: Literal[1]
    title: str
    source: dict[str, str] = field(hash=False, compare=False)
    lead_ohm: AtLeast0
    """Each of the two test leads [ohm]."""
    accuracy_percent: Above0
    accuracy_counts: Count
    cycle: Cycle


@dataclass(frozen=True, slots=True, kw_only=True)
class Ohms(_Meter):
    """An ohmmeter: reads internal_ohm v / (source - v)."""

    kind: Literal["ohms"]
    range: Annotated[tuple[OhmsRange, ...], MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Volts(_Meter):
    """A voltmeter for DC."""

    kind: Literal["volts"]
    range: Annotated[tuple[VoltsRange, ...], MinLen(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class AcVolts(_Meter):
    """A voltmeter for AC: reads the true rms value of what alternates."""

    kind: Literal["ac-volts"]
    range: Annotated[tuple[VoltsRange, ...], MinLen(1)]


MeterProfile = Ohms | Volts | AcVolts
