"""What every instrument's law can tell: what it would show of a pair, and how surely.

Law: a law sees pairs as their near end does, any number at once, and nothing else. It turns a
display's number into the quantity in which instrument and pair are nearly straight, and back.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt
from typing import Protocol

from farend_sim.bench.pair.wiring import Lead, NearEnd, UnitOnPair, wiring
from farend_sim.drill.expert.looks import Look, Setting
from farend_sim.unit.profile import Electrical
from line_model.equipment import NOTHING
from line_model.fan import FRONT, Circuit, joined, meshed, seen_from
from line_model.meters.leads import MINUS, PLUS, THIRD
from line_model.meters.profile import MeterProfile
from line_model.network import Mesh
from line_model.parts import Part, Real
from line_model.route import Route

UNIFORM = sqrt(3.0)
"""A limit over its standard deviation, where everything inside is as likely."""
TWO, THREE = (PLUS, MINUS), (PLUS, MINUS, THIRD)


@dataclass(frozen=True, slots=True)
class Asked:
    """A setting with the range on which its meter stands."""

    setting: Setting
    range: int


@dataclass(frozen=True, slots=True)
class Seen:
    """A look as the expert weighs it."""

    range: int
    value: float
    """In the law's own quantity."""
    sd: float
    """Of the display's steps."""
    gain: float
    """What the instrument's own gain, one standard deviation off, moves it by."""
    slack: float = 0.0
    """Anything this close is as good: what a display that is over leaves open."""


class Law(Protocol):
    """One meter's law."""

    @property
    def profile(self) -> MeterProfile:
        """The meter's file."""

    @property
    def hz(self) -> float:
        """The frequency at which it looks at a pair."""

    def hookups(self) -> tuple[str, ...]:
        """How it may be clipped on."""

    def observed(self, pair: Circuit, asked: Asked) -> Real:
        """Its quantity, across pairs seen from their near end (...)."""

    def seen(self, look: Look) -> Seen | None:
        """A look in that quantity; None if it tells nothing."""

    def readable(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        """What it would show, on one scale for all ranges, and how surely."""


@lru_cache(maxsize=256)
def leads(
    parts: tuple[Part, ...], ends: tuple[str, ...], lead: Lead, hz: float, unit: Electrical
) -> Circuit:
    """Test leads and the near end's clip lead: between the meter's ends and the pair."""
    nowhere = Route((), ("off.tip", "off.ring", "off.sheath"), ())
    none_there = UnitOnPair(unit, clipped=False)
    wired = wiring(nowhere, none_there, NearEnd(lead=lead, meter=parts), NOTHING)
    return meshed(Mesh((hz,), wired).seen_from((*ends, *FRONT)))


def at_ends(pair: Circuit, led: Circuit, ends: tuple[str, ...]) -> Circuit:
    """What the meter's ends meet of pairs."""
    return seen_from(joined(pair, led), ends)
