"""What may be joined to an end of a pair: an office, a telephone, a termination, a test sender.

Each gives its parts between tip, ring and the sheath of its end; figures carry their source.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from line_model import sender
from line_model.parts import Alternating, Branch, Knee, Part, Real, Resistor, SeriesRC, Source
from line_model.sourced import Sourced

FEED_VOLT = Sourced(-48.0, "V", "nominal office battery, on ring: 83 Ill. Adm. Code 730.525")
FEED_OHM = Sourced(200.0, "ohm", "each leg of the feed: common practice, from memory")
OFFICE_OHM = Sourced(900.0, "ohm", "office termination: from memory")
OFFICE_FARAD = Sourced(2.16e-6, "F", "office termination: from memory")
DIAL_HZ = (350.0, 440.0)
"""Dial tone's two tones. Source: the precise tone plan, restated in an encyclopedia."""
DIAL_DBM = Sourced(-13.0, "dBm", "dial tone, each tone into its own termination: the same")
DIAL_AMP = Sourced(0.010, "A", "loop current that brings dial tone: common practice, no source")
DIAL_AFTER_S = Sourced(0.4, "s", "from loop current to dial tone: invented for the demo")
RING_HZ = Sourced(20.0, "Hz", "ringing: from memory")
RING_VOLT = Sourced(90.0, "V", "ringing, rms, on the battery of ring: from memory")
RING_ON_S = Sourced(2.0, "s", "ringing, each burst: from memory")
RING_OFF_S = Sourced(4.0, "s", "ringing, between two bursts: from memory")
QUIET_OHM = Sourced(900.0, "ohm", "quiet termination: 7 CFR 1755.403(e)(4)(ii)")
QUIET_FARAD = Sourced(2.0e-6, "F", "quiet termination: 7 CFR 1755.403(e)(4)(ii)")
RINGER_OHM = Sourced(7000.0, "ohm", "one ringer's resistance: common practice, no source")
RINGER_FARAD = Sourced(0.5e-6, "F", "one ringer's capacitor: common practice, no source")
ON_HOOK_OHM = Sourced(10e6, "ohm", "more than 5 megohm: 47 CFR 68.312(b)(1), 1997")
BRIDGE_VOLT = Sourced(3.0, "V", "two diodes and what is behind them: common practice, no source")
BRIDGE_OHM = Sourced(180.0, "ohm", "off hook, once it conducts: common practice, no source")


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment:
    """What is joined at an end: behind the technician, or beyond the unit."""

    equipment: Literal["none", "office", "telephone", "quiet", "sender"] = "none"
    hook: Literal["on", "off"] = "on"
    """Of a telephone."""
    ringing: bool = False
    """Of an office: it rings the pair, in bursts; what picks up does not stop it."""

    def at(self, now_us: int) -> "Equipment":
        """The equipment as it is at a moment: an office that rings is another circuit meanwhile."""
        into_us = now_us % (_RING_ON_US + _RING_OFF_US)
        sounds = self.ringing and into_us < _RING_ON_US
        return RingingOffice(equipment="office", ringing=True) if sounds else self

    def changes_us(self, now_us: int) -> int | None:
        """When a burst next begins or ends, after a moment [us]; None if it never rings."""
        into_us = now_us % (_RING_ON_US + _RING_OFF_US)
        ends_us = _RING_ON_US if into_us < _RING_ON_US else _RING_ON_US + _RING_OFF_US
        return now_us - into_us + ends_us if self.ringing else None

    def parts(self, tip: str, ring: str, sheath: str) -> tuple[Part, ...]:
        """The equipment between two legs, earthed at the sheath of its end."""
        return tuple(_PARTS[self.equipment](self, tip, ring, sheath))

    def figures(self) -> dict[str, object]:
        """Every ohm, farad and volt of it, as `farend-sim line` prints them."""
        return {"equipment": self.equipment, **_FIGURES[self.equipment](self)}


NOTHING = Equipment()
_RING_ON_US, _RING_OFF_US = (round(s.value * 1e6) for s in (RING_ON_S, RING_OFF_S))


@dataclass(frozen=True, slots=True)
class RingFeed(Source):
    """Ringing on the battery of ring, behind the feed's resistance."""

    def alternating(self) -> Iterator[Alternating]:
        """Currents that it drives besides its direct one."""
        yield Alternating(RING_HZ.value, self.a, self.b, complex(RING_VOLT.value / self.ohm))


@dataclass(frozen=True, slots=True, kw_only=True)
class RingingOffice(Equipment):
    """An office in a burst of ringing: its generator is on the pair, and its termination is not."""

    def parts(self, tip: str, ring: str, sheath: str) -> tuple[Part, ...]:
        """The feed with ringing on it; what it has at other times is open at its coil."""
        return (
            Source(tip, sheath, 0.0, FEED_OHM.value),
            RingFeed(ring, sheath, FEED_VOLT.value, FEED_OHM.value),
        )


@dataclass(frozen=True, slots=True)
class Feed(Source):
    """An office's feed of one leg: direct current alone goes through its coil."""

    def exact(self, hz: Real) -> Iterator[Branch]:
        yield Branch(self.a, self.b, np.where(hz > 0, 0.0, 1.0 / self.ohm).astype(complex))


def _none(_: Equipment, tip: str, ring: str, sheath: str) -> Iterator[Part]:
    yield from ()


def _office(_: Equipment, tip: str, ring: str, sheath: str) -> Iterator[Part]:
    yield Feed(tip, sheath, 0.0, FEED_OHM.value)
    yield Feed(ring, sheath, FEED_VOLT.value, FEED_OHM.value)
    yield SeriesRC(tip, ring, OFFICE_OHM.value, OFFICE_FARAD.value, f"{tip}.office")


def _telephone(of: Equipment, tip: str, ring: str, sheath: str) -> Iterator[Part]:
    yield Resistor(tip, ring, ON_HOOK_OHM.value)
    if of.hook == "on":
        yield SeriesRC(tip, ring, RINGER_OHM.value, RINGER_FARAD.value, f"{tip}.ringer")
    else:
        yield Knee(tip, ring, BRIDGE_OHM.value, BRIDGE_VOLT.value)


def _quiet(_: Equipment, tip: str, ring: str, sheath: str) -> Iterator[Part]:
    yield SeriesRC(tip, ring, QUIET_OHM.value, QUIET_FARAD.value, f"{tip}.quiet")


def _sender(_: Equipment, tip: str, ring: str, sheath: str) -> Iterator[Part]:
    yield from sender.parts(tip, ring)


def _office_figures(of: Equipment) -> dict[str, object]:
    return {
        "feed_volt": FEED_VOLT.value,
        "feed_ohm": FEED_OHM.value,
        "termination_ohm": OFFICE_OHM.value,
        "termination_farad": OFFICE_FARAD.value,
        "dial_hz": list(DIAL_HZ),
        "dial_dbm": DIAL_DBM.value,
        "dial_amp": DIAL_AMP.value,
        **(_RING_FIGURES if of.ringing else {}),
    }


def _telephone_figures(of: Equipment) -> dict[str, object]:
    figures: dict[str, object] = {"hook": of.hook, "on_hook_ohm": ON_HOOK_OHM.value}
    if of.hook == "on":
        return {
            **figures,
            "ringer_ohm": RINGER_OHM.value,
            "ringer_farad": RINGER_FARAD.value,
        }
    return {**figures, "bridge_volt": BRIDGE_VOLT.value, "bridge_ohm": BRIDGE_OHM.value}


def _quiet_figures(_: Equipment) -> dict[str, object]:
    return {"termination_ohm": QUIET_OHM.value, "termination_farad": QUIET_FARAD.value}


_RING_FIGURES: dict[str, object] = {
    "ringing_volt": RING_VOLT.value,
    "ringing_hz": RING_HZ.value,
    "ringing_on_s": RING_ON_S.value,
    "ringing_off_s": RING_OFF_S.value,
}
_PARTS = {
    "none": _none,
    "office": _office,
    "telephone": _telephone,
    "quiet": _quiet,
    "sender": _sender,
}
_FIGURES: dict[str, Callable[[Equipment], dict[str, object]]] = {
    "none": lambda _: {},
    "office": _office_figures,
    "telephone": _telephone_figures,
    "quiet": _quiet_figures,
    "sender": lambda _: sender.figures(),
}
