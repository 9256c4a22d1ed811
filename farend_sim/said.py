"""Lengths, gauges and quantities as people say them."""

import math

from line_model.constants import FOOT_M

_PREFIXES = ((1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "u"), (1e-9, "n"))


def length(length_m: float, feet: bool = False) -> str:
    """A length in metres or feet: never finer than a tenth, from a hundred on whole."""
    value, unit = (length_m / FOOT_M, "ft") if feet else (length_m, "m")
    return f"{value:.0f} {unit}" if abs(value) >= 99.95 else f"{round(value, 1):g} {unit}"


def gauge(awg: int | None, diameter_mm: float | None) -> str:
    """A stretch's gauge, by the one of the two that is given."""
    return f"{diameter_mm:g} mm" if awg is None else f"{awg} AWG"


def quantity(value: float | None, unit: str, nothing: str = "infinite") -> str:
    """A number with its unit, `84.2 kohm`: four digits and a prefix."""
    if value is None or not math.isfinite(value):
        return nothing
    for factor, prefix in _PREFIXES:
        if abs(value) >= factor * 0.99995:
            return f"{value / factor:.4g} {prefix}{unit}"
    # Less than a nano of anything here is rounding, not a quantity.
    return f"0 {unit}"
