"""Cable constants: what a stretch of cable is, per metre, at its temperature.

The catalogue is line_model/data/cables.toml; a stretch may override its defaults.
"""

import hashlib
import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any, get_args

from line_model import constants as k
from line_model.errors import LineError, SourceError
from line_model.plant import Gauge, Stretch

_PRINTED = (
    "mutual_nf_per_km",
    "leg_sheath_nf_per_km",
    "leg_leg_nf_per_km",
    "mh_per_km",
    "sheath_ohm_per_km",
    "insulation_megohm_km",
    "lay_percent",
    "unbalance_percent",
    "unbalance_pf_per_km",
    "absorption_percent",
)
GAUGES_AWG: tuple[Gauge, ...] = get_args(Gauge)
DIAMETERS_MM = (0.4, 0.5, 0.6, 0.9)


@dataclass(frozen=True, slots=True)
class PerMetre:
    """Constants of a uniform stretch per metre: tip, ring and sheath, in SI units."""

    tip_ohm: float
    ring_ohm: float
    sheath_ohm: float
    leg_henry: float
    tip_sheath_farad: float
    ring_sheath_farad: float
    tip_ring_farad: float
    leg_sheath_siemens: float
    slow_farad: float = 0.0
    """What a leg's insulation soaks up slowly, all of line_model/section.py's branches together."""

    def swollen(self, by: float) -> "PerMetre":
        """The same stretch with so many times its capacitance, as where water is in it."""
        if by == 1.0:
            return self
        return replace(
            self,
            tip_sheath_farad=self.tip_sheath_farad * by,
            ring_sheath_farad=self.ring_sheath_farad * by,
            tip_ring_farad=self.tip_ring_farad * by,
        )


@cache
def catalogue() -> dict[str, Any]:
    """The cable rows with their sources.

    Raises:
        SourceError: a key of a row has no source.
    """
    text = (files("line_model") / "data" / "cables.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)
    for name, row in rows["gauge"].items():
        for key in {**rows["defaults"], **row}:
            if not rows["source"].get(key):
                raise SourceError(f"cables.toml: gauge.{name}.{key} has no source")
    return rows


def awg_mm(awg: int) -> float:
    """Diameter of a wire gauge [mm]. Source: ASTM B258, from memory."""
    return float(k.AWG_36_MM.value * k.AWG_RATIO.value ** ((36 - awg) / 39))


def gauge_name(stretch: Stretch) -> str:
    """The catalogue's name of a stretch's gauge: `24` or `0.5mm`."""
    if stretch.gauge_awg is not None:
        return str(stretch.gauge_awg)
    return f"{stretch.diameter_mm:g}mm"


def copper_factor(temperature_c: float, tempco_per_c: float | None = None) -> float:
    """Resistance at a temperature over that at 20 C. Source: constants.COPPER_TEMPCO_PER_C."""
    tempco = k.COPPER_TEMPCO_PER_C.value if tempco_per_c is None else tempco_per_c
    return 1 + tempco * (temperature_c - k.REFERENCE_C.value)


def conductor_ohm_per_km(gauge: str, temperature_c: float) -> float:
    """Resistance of one conductor, no lay [ohm/km]."""
    mm = float(gauge[:-2]) if gauge.endswith("mm") else awg_mm(int(gauge))
    area_mm2 = 3.141592653589793 / 4 * mm**2
    return 1000 * k.COPPER_OHM_MM2_PER_M.value / area_mm2 * copper_factor(temperature_c)


def defaults(gauge: str) -> dict[str, float]:
    """The catalogue's row of a gauge, defaults filled in.

    Raises:
        LineError: the catalogue has no such gauge.
    """
    rows = catalogue()
    if gauge not in rows["gauge"]:
        known = ", ".join(rows["gauge"])
        raise LineError(f"gauge: found {gauge!r}, expected one of {known}")
    return {**rows["defaults"], **rows["gauge"][gauge]}


def constants_json(gauge: str, temperature_c: float) -> dict[str, Any]:
    """What `farend-sim cable` prints: flat constants, and a source for each."""
    row = defaults(gauge)
    row["leg_leg_nf_per_km"] = row["mutual_nf_per_km"] - row["leg_sheath_nf_per_km"] / 2
    row["ohm_per_km"] = conductor_ohm_per_km(gauge, temperature_c)
    row["sheath_ohm_per_km"] *= copper_factor(temperature_c, k.SHEATH_TEMPCO_PER_C.value)
    keys = ("ohm_per_km", *_PRINTED)
    sources = catalogue()["source"]
    return {
        "gauge": gauge,
        "temperature_c": temperature_c,
        **{key: row[key] for key in keys},
        "source": {key: sources[key] for key in keys},
    }


def _sign(seed: int, *what: str) -> int:
    """+1 or -1, fixed by the scenario's seed and what it is for."""
    digest = hashlib.sha256("/".join((str(seed), *what)).encode()).digest()
    return 1 if digest[0] & 1 else -1


def per_metre(stretch: Stretch, plant_temperature_c: float, seed: int, label: str) -> PerMetre:
    """Constants of a stretch per metre, the catalogue's where it says nothing itself.

    Args:
        stretch: the section or tap.
        plant_temperature_c: for a stretch without a temperature of its own [C].
        seed: fixes the sign of the unbalances.
        label: tells the stretch from others of the same plant.
    """
    gauge = gauge_name(stretch)
    row = defaults(gauge)
    for key in row:
        own = getattr(stretch, key, None)
        if own is not None:
            row[key] = own
    celsius = plant_temperature_c if stretch.temperature_c is None else stretch.temperature_c
    scale = row["mutual_nf_per_km"] / defaults(gauge)["mutual_nf_per_km"]
    leg_sheath_nf = row["leg_sheath_nf_per_km"] * scale
    leg_leg_nf = row["mutual_nf_per_km"] - leg_sheath_nf / 2
    leg_ohm = conductor_ohm_per_km(gauge, celsius) * (1 + row["lay_percent"] / 100)
    ohm_part = _sign(seed, label, "resistance") * row["unbalance_percent"] / 200
    half_pf = _sign(seed, label, "capacitance") * row["unbalance_pf_per_km"] / 2
    sheath_factor = copper_factor(celsius, k.SHEATH_TEMPCO_PER_C.value)
    return PerMetre(
        tip_ohm=leg_ohm * (1 + ohm_part) / 1e3,
        ring_ohm=leg_ohm * (1 - ohm_part) / 1e3,
        sheath_ohm=row["sheath_ohm_per_km"] * sheath_factor / 1e3,
        leg_henry=row["mh_per_km"] / 2 * 1e-6,
        tip_sheath_farad=(leg_sheath_nf * 1e-9 + half_pf * 1e-12) / 1e3,
        ring_sheath_farad=(leg_sheath_nf * 1e-9 - half_pf * 1e-12) / 1e3,
        tip_ring_farad=leg_leg_nf * 1e-12,
        leg_sheath_siemens=1 / (row["insulation_megohm_km"] * 1e6) / 1e3,
        slow_farad=leg_sheath_nf * 1e-12 * row["absorption_percent"] / 100,
    )
