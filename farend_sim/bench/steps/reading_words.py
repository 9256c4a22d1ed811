"""A reading's units, figures and places in the words of a technician: one table for every view."""

from collections.abc import Iterator, Mapping
from typing import Any

from farend_sim.said import length

UNITS = {
    "ohm": "ohm",
    "volt": "V",
    "nf": "nF",
    "dbm": "dBm",
    "dbrnc": "dBrnC",
    "division": "divisions",
}
PLACES = {
    "loop_m": "loop",
    "open_m": "open",
    "trouble_m": "trouble",
    "to_strap_m": "from there to the strap",
}
"""What a reading's places are, by the record."""
_FIGURES = {
    "fraction": "slide {:.4f}",
    "loop_ohm": "loop {:.1f} ohm",
    "to_strap_ohm": "strap {:+.1f} ohm",
    "loss_percent": "loss {:.1f} %",
    "first_kick_division": "first kick {:.1f}",
    "rest_division": "rest {:.1f}",
    "hz": "{:.0f} Hz",
    "loss_db": "loss {:.1f} dB",
    "power_influence_dbrnc": "power influence {:.1f} dBrnC",
    "balance_db": "balance {:.1f} dB",
    "foreign_volt": "{:.1f} V",
}
"""What else a display shows beside its number, and how."""

_MEGOHM_DIGITS = 6
"""An ohms display with more digits than this is told in megohm."""


def figures(row: Mapping[str, Any]) -> Iterator[str]:
    """What a display shows beside its number."""
    return (how.format(row[key]) for key, how in _FIGURES.items() if row.get(key) is not None)


def places(row: Mapping[str, Any], feet: bool) -> Iterator[str]:
    """What the number comes to on the record."""
    for key, word in PLACES.items():
        if row.get(key) is not None:
            yield f"{word}: {length(row[key], feet)}"


def scaled(shown: str, unit: str) -> tuple[str, str]:
    """A display's text and the unit beside it: from a million ohms on, megohm; none of words."""
    if not any(sign.isdigit() for sign in shown):
        return shown, ""
    if unit == "ohm" and shown.isdecimal() and len(shown) > _MEGOHM_DIGITS:
        return f"{float(shown) / 1e6:.9g}", "megohm"
    return shown, UNITS.get(unit, unit)


def with_unit(shown: str, unit: str) -> str:
    """The same in one line."""
    return " ".join(filter(None, scaled(shown, unit)))
