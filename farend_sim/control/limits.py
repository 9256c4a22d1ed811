"""What the unit's receiver takes and refuses: the `[receiver]` table of a unit file.

Between an accept and a reject figure the receiver may do either; this one decides half way.
"""

from dataclasses import dataclass
from typing import Annotated

from annotated_types import Ge, Gt, Le


@dataclass(frozen=True, slots=True)
class ReceiverLimits:
    """The figures of one receiver; the sources stand beside the values in the unit file."""

    floor_dbm: Annotated[float, Ge(-70), Le(0)] = -40.0
    """Lowest level of either tone. Invented for this unit: far pairs need more than the -25 dBm
    that ITU-T Q.24 asks of an exchange."""
    ceiling_dbm: Annotated[float, Ge(-20), Le(20)] = 6.0
    """Highest level of either tone. Invented for this unit; Q.24 asks 0 dBm, and an unloaded pair
    shows twice a keypad's voltage."""
    overload_volt: Annotated[float, Gt(0), Le(200)] = 5.0
    """Highest peak at the input, hum and all. Invented for this unit; room for two tones at the
    ceiling."""
    normal_twist_db: Annotated[float, Ge(0), Le(15)] = 8.0
    """Most that the high tone may lie under the low one. Source: ITU-T Q.24 (11/88) Table A-1,
    North American column, from memory."""
    reverse_twist_db: Annotated[float, Ge(0), Le(15)] = 4.0
    """Most that the high tone may lie over the low one. Source: as above."""
    frequency_accept_percent: Annotated[float, Gt(0), Le(3.5)] = 1.5
    """Always taken up to here. Source: as above."""
    frequency_reject_percent: Annotated[float, Gt(0), Le(3.5)] = 3.5
    """Never taken from here. Source: as above."""
    tone_accept_ms: Annotated[float, Gt(0), Le(1000)] = 40.0
    """Shortest tone that is always taken. Source: as above."""
    tone_reject_ms: Annotated[float, Gt(0), Le(1000)] = 23.0
    """Longest tone that is never taken. Source: as above."""
    pause_ms: Annotated[float, Ge(30), Le(100)] = 40.0
    """Shortest pause that always parts two keys. Source: as above."""
    interruption_ms: Annotated[float, Ge(0), Le(10)] = 10.0
    """A break in a tone up to here is ignored. Source: as above."""
    noise_margin_db: Annotated[float, Ge(3), Le(30)] = 8.0
    """Both tones together over all else in 300 to 4000 Hz, at least. Invented for this unit; Q.24
    gives none that compares."""

    dial_rejection_db: Annotated[float, Ge(0), Le(60)] = 14.0
    """What the front end takes off dial tone. Invented for this unit."""
    hum_rejection_db: Annotated[float, Ge(0), Le(80)] = 30.0
    """What it takes off induced hum and its harmonics. Invented for this unit."""

    @property
    def frequency_edge_percent(self) -> float:
        return (self.frequency_accept_percent + self.frequency_reject_percent) / 2.0

    @property
    def tone_edge_ms(self) -> float:
        return (self.tone_accept_ms + self.tone_reject_ms) / 2.0

    @property
    def end_ms(self) -> float:
        """How long a tone must be away to have ended: a third of the way, so as to answer early."""
        return self.interruption_ms + (self.pause_ms - self.interruption_ms) / 3.0
