"""Lengths and gauges as people ask for them."""

from typing import TYPE_CHECKING

from farend_sim.feet import FOOT_M

if TYPE_CHECKING:
    from line_model.plant import Stretch


def length(length_m: float, feet: bool) -> str:
    """A length, metres or feet."""
    return f"{length_m / FOOT_M:.0f} ft" if feet else f"{length_m:.0f} m"


def length_text(length_m: float, feet: bool) -> str:
    """A length that was reckoned: four digits, never finer than a tenth."""
    value, unit = (length_m / FOOT_M, "ft") if feet else (length_m, "m")
    return f"{value:.0f} {unit}" if value >= 99.95 else f"{value:.1f} {unit}"


def gauge(stretch: "Stretch") -> str:
    """A stretch's gauge."""
    awg, mm = stretch.gauge_awg, stretch.diameter_mm
    return f"{awg} AWG" if awg is not None else f"{mm:g} mm"
