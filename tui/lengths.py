"""Lengths as people ask for them."""

from farend_sim.feet import FOOT_M


def length(length_m: float, feet: bool) -> str:
    """A length, metres or feet."""
    return f"{length_m / FOOT_M:.0f} ft" if feet else f"{length_m:.0f} m"
