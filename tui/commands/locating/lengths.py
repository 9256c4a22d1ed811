"""Lengths as people read them: metres, or feet when they ask."""

from farend_sim.feet import FOOT_M


def length_text(length_m: float, feet: bool) -> str:
    """A length to four digits, never finer than a tenth."""
    value, unit = (length_m / FOOT_M, "ft") if feet else (length_m, "m")
    return f"{value:.0f} {unit}" if value >= 99.95 else f"{value:.1f} {unit}"
