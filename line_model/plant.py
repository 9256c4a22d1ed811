"""The plant as a person writes it down: sections, taps, temperature and the earths.

These dataclasses are what a scenario file validates into; `None` means the catalogue's default
(line_model/cable.py). How they become a circuit is in line_model/route.py.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from annotated_types import Ge, Gt, Le, MinLen

Above0 = Annotated[float, Gt(0)]
AtLeast0 = Annotated[float, Ge(0)]
Celsius = Annotated[float, Ge(-60), Le(90)]
TRAVEL_M_PER_S = 5.0
"""How fast a technician gets along the route, by van and on foot [m/s]. Invented for the demo."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A uniform length of cable: its gauge, and whatever differs from the catalogue."""

    gauge_awg: Literal[19, 22, 24, 26] | None = None
    diameter_mm: float | None = None
    length_m: Above0
    temperature_c: Celsius | None = None
    lay_percent: AtLeast0 | None = None
    mutual_nf_per_km: Above0 | None = None
    sheath_ohm_per_km: Above0 | None = None
    insulation_megohm_km: Above0 | None = None
    unbalance_percent: Annotated[float, Ge(0), Le(100)] | None = None
    unbalance_pf_per_km: AtLeast0 | None = None


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
class Plant:
    """The cable between the two ends, near to far."""

    section: Annotated[tuple[Section, ...], MinLen(1)]
    tap: tuple[Tap, ...] = ()
    access: tuple[Access, ...] = ()
    temperature_c: Celsius = 20.0
    near_earth_ohm: Above0 = 5.0
    """Sheath to true earth at the near end [ohm]: 7 CFR 1755.402(e)(1), an office's limit."""
    far_earth_ohm: Above0 = 25.0
    """Likewise at the far end [ohm]: 7 CFR 1755.402(e)(2), electronic equipment's limit."""

    @property
    def length_m(self) -> float:
        """The length of the route without its taps [m]."""
        return sum(section.length_m for section in self.section)
