"""What a unit is made of: the electrical and timing tables of a unit file.

The receiver's limits stand in the same file but belong to whoever has samples.
"""

from dataclasses import dataclass, field
from typing import Annotated

from annotated_types import Ge, Gt, MinLen

from farend_sim.unit.effects import Segment, Voice
from farend_sim.unit.ticks import to_us


@dataclass(frozen=True, slots=True, kw_only=True)
class Electrical:
    """What the unit's parts are worth, for whoever solves the line."""

    contact_ohm: Annotated[float, Gt(0)]
    """The strap, and each leg's ground contact."""
    ground_lead_ohm: Annotated[float, Gt(0)]
    """From both ground contacts to the far sheath."""
    series_contact_ohm: Annotated[float, Gt(0)]
    """In each leg towards what is beyond."""
    receiver_ohm: Annotated[float, Gt(0)]
    receiver_farad: Annotated[float, Gt(0)]
    """In series with `receiver_ohm`, across the pair."""
    leak_ohm: Annotated[float, Gt(0)]
    """Across the pair."""
    tone_ohm: Annotated[float, Gt(0)]
    tone_farad: Annotated[float, Gt(0)]
    """In series with `tone_ohm`, across the pair while the tone contact is closed."""
    tone_volt: Annotated[float, Gt(0)]
    """Open-circuit, rms, of replies and tone alike."""
    tone_hz: Annotated[tuple[Annotated[float, Gt(0)], ...], MinLen(1)]
    """The tone state's bursts take these in turn."""
    surge_volt: Annotated[float, Gt(0)] | None = None
    """Above this the surge protection conducts, from each leg to its ground and across the pair;
    None: it has none."""
    surge_ohm: Annotated[float, Gt(0)] = 50.0
    """What it then lets through the excess by. The default is invented for the demo."""
    source: dict[str, str] = field(default_factory=dict, hash=False, compare=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """How fast the unit is, whatever the scheme."""

    operate_s: Annotated[float, Gt(0)]
    """From the order to open until a contact is surely open."""
    reply_delay_s: Annotated[float, Ge(0)]
    """From the last key of a command to its reply."""
    knock_reply_delay_s: Annotated[float, Ge(0)]
    """From the last key of a knock to its reply, which another key in between drops."""
    sleep_after_s: Annotated[float, Gt(0)]
    tone_on_s: Annotated[float, Gt(0)]
    tone_gap_s: Annotated[float, Gt(0)]
    """Long enough for a whole key and its guard; the unit would never hear one otherwise."""
    source: dict[str, str] = field(default_factory=dict, hash=False, compare=False)

    @property
    def operate_us(self) -> int:
        return to_us(self.operate_s)

    @property
    def reply_delay_us(self) -> int:
        return to_us(self.reply_delay_s)

    @property
    def knock_reply_delay_us(self) -> int:
        return to_us(self.knock_reply_delay_s)

    @property
    def sleep_after_us(self) -> int:
        return to_us(self.sleep_after_s)

    def tone(self, tone_hz: tuple[float, ...]) -> Voice:
        """Return what the tone state sounds: each frequency in turn, a gap behind each."""
        on_us, gap_us = to_us(self.tone_on_s), to_us(self.tone_gap_s)
        bursts = ((Segment(hz, on_us), Segment(0.0, gap_us)) for hz in tone_hz)
        return Voice(tuple(segment for burst in bursts for segment in burst), repeat=True)
