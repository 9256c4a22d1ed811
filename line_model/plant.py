"""The plant as a person writes it down: sections, taps, temperature and the earths.

These dataclasses are what a scenario file validates into; `None` means the catalogue's default
(line_model/cable.py). How they become a circuit is in line_model/route.py.
"""

from dataclasses import dataclass
from math import floor
from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le, MinLen

from line_model.constants import FOOT_M
from line_model.terminals import Leg

Gauge = Literal[19, 22, 24, 26]
NeighbourState = Literal["quiet", "working", "talking", "open"]
"""AWG of the catalogue's copper."""
Above0 = Annotated[float, Gt(0)]
AtLeast0 = Annotated[float, Ge(0)]
Celsius = Annotated[float, Ge(-60), Le(90)]
Volt = Annotated[float, Ge(-1e5), Le(1e5)]
"""Here and at a stretch, limits far beyond any cable only catch slips. Invented here."""
TRAVEL_M_PER_S = 5.0
"""How fast a technician gets along the route, by van and on foot [m/s]. Invented for the demo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A uniform length of cable: its gauge, and whatever differs from the catalogue."""

    gauge_awg: Gauge | None = None
    diameter_mm: float | None = None
    length_m: Annotated[float, Gt(0), Le(1e6)]
    temperature_c: Celsius | None = None
    lay_percent: Annotated[float, Ge(0), Le(100)] | None = None
    mutual_nf_per_km: Annotated[float, Gt(0), Le(1e4)] | None = None
    sheath_ohm_per_km: Annotated[float, Gt(0), Le(1e9)] | None = None
    """At 20 C, as the catalogue's; it goes with temperature."""
    insulation_megohm_km: Annotated[float, Ge(1e-6), Le(1e12)] | None = None
    unbalance_percent: Annotated[float, Ge(0), Le(100)] | None = None
    unbalance_pf_per_km: AtLeast0 | None = None
    absorption_percent: Annotated[float, Ge(0), Le(500)] | None = None
    """Capacitance that insulation soaks up slowly, of a leg's own to the sheath."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section(Stretch):
    """A stretch of the route, end to end with the next."""

    name: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap(Stretch):
    """A bridged tap: a stretch joined at a place of the route and open at its end."""

    name: str | None = None
    at_m: AtLeast0


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """A place on the route where the pair can be got at: a splice, a pedestal, a terminal."""

    name: Annotated[str, MinLen(1)]
    at_m: Above0
    kind: Literal["joint", "pedestal", "terminal"] = "joint"
    travel_s: AtLeast0 | None = None
    """The way from the near end [s]; None: by the distance, at `TRAVEL_M_PER_S`."""

    @property
    def from_near_s(self) -> float:
        """The way from the near end [s]."""
        return self.at_m / TRAVEL_M_PER_S if self.travel_s is None else self.travel_s


@dataclass(frozen=True, slots=True, kw_only=True)
class Earth:
    """A bond from the sheath to true earth between the two ends."""

    name: Annotated[str, MinLen(1)]
    at_m: AtLeast0
    ohm: Above0 = 25.0
    """To true earth [ohm]: as at the far end, 7 CFR 1755.402(e)(2)."""
    volt: float = 0.0
    """Of true earth here against true earth at the near end, DC [V]."""
    ac_volt: AtLeast0 = 0.0
    """Likewise of `earth_hz` [V rms], all in step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """A load coil: both windings on one core, so that the loop alone meets its inductance."""

    name: Annotated[str, MinLen(1)]
    at_m: AtLeast0
    millihenry: Annotated[float, Gt(0), Le(1000)]
    ohm: Above0 = 8.0
    """Both windings together [ohm]: 4 to 9, common practice, no source."""
    reversed: bool = False
    """One winding turned about."""


LOADINGS = {
    "H88": (88.0, 6000 * FOOT_M),
    "D66": (66.0, 4500 * FOOT_M),
}
"""Millihenry, and metres from coil to coil. Source: 7 CFR 1755.403(e)(6)(i)(A) and (B)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loading:
    """Load coils evenly spaced, the first half a spacing from the near end (from memory)."""

    kind: Literal["H88", "D66"]
    ohm: Above0 = 8.0
    """Of each coil, both windings together [ohm]: 4 to 9, common practice, no source."""

    def coils(self, length_m: float) -> tuple[Coil, ...]:
        """The coils on a route: `coil 1`, `coil 2` and on."""
        millihenry, spacing_m = LOADINGS[self.kind]
        count = floor(length_m / spacing_m + 0.5)
        return tuple(
            Coil(
                name=f"coil {i + 1}",
                at_m=round((i + 0.5) * spacing_m, 6),
                millihenry=millihenry,
                ohm=self.ohm,
            )
            for i in range(count)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """Another pair of the same cable, from end to end beside the pair."""

    name: Annotated[str, MinLen(1)]
    state: NeighbourState = "quiet"
    """What its two ends are joined to: line_model/neighbours.py."""
    open_leg: Leg | None = None
    """A leg of it that is open, if one is, at `open_at_m`."""
    open_at_m: AtLeast0 | None = None
    post: Annotated[int, Ge(1)] | None = None
    """The post of the near end's block that it ends at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """The cable between the two ends, near to far."""

    section: Annotated[tuple[Section, ...], MinLen(1)]
    tap: tuple[Tap, ...] = ()
    access: tuple[Access, ...] = ()
    earth: tuple[Earth, ...] = ()
    coil: tuple[Coil, ...] = ()
    loading: Loading | None = None
    neighbour: tuple[Neighbour, ...] = ()
    temperature_c: Celsius = 20.0
    """The default is what tables of copper are for: IEC 60028, from memory [C]."""
    near_earth_ohm: Above0 = 5.0
    """Sheath to true earth at the near end [ohm]: 7 CFR 1755.402(e)(1), an office's limit."""
    far_earth_ohm: Above0 = 25.0
    """Likewise at the far end [ohm]: 7 CFR 1755.402(e)(2), electronic equipment's limit."""
    far_earth_volt: float = 0.0
    """Of true earth at the far end against true earth at the near end, DC [V]."""
    far_earth_ac_volt: AtLeast0 = 0.0
    """Likewise of `earth_hz` [V rms]."""
    earth_hz: Annotated[float, Ge(10), Le(400)] = 60.0
    """Of the power net: 60 in North America, common practice, no source [Hz]."""

    @property
    def coils(self) -> tuple[Coil, ...]:
        """All load coils, the evenly spaced ones first."""
        return (*(self.loading.coils(self.length_m) if self.loading else ()), *self.coil)

    @property
    def length_m(self) -> float:
        """The length of the route without its taps [m]."""
        return sum(section.length_m for section in self.section)
