"""How a method's answer is printed: a place, its band, a picture; or why there is none.

Exit 1: the readings are impossible on this record.
"""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, TypeVar

import click

from farend_sim.said import length, quantity
from line_model.constants import FOOT_M
from tui.commands.answers import echo_json
from tui.commands.locating.options import Asked
from tui.commands.locating.picture import picture, place_marks

if TYPE_CHECKING:
    from line_model.plant import Plant
    from line_model.worksheet.band import Place

T = TypeVar("T")
_UNITS = {"ohm": "ohm", "nf": "nF"}


def record(asked: Asked) -> "Plant":
    """The plant as recorded, at the temperature asked for."""
    from farend_sim.files import load_scenario
    from line_model.worksheet.record import at_temperature

    plant = load_scenario(asked.record).recorded
    return plant if asked.temperature_c is None else at_temperature(plant, asked.temperature_c)


def found(asked: Asked, method: str, locate: "Callable[[Plant], T]") -> "tuple[Plant, T]":
    """Do a method's sum; where the readings are impossible, say so and leave with 1."""
    from line_model.worksheet.band import ImpossibleReadingError

    plant = record(asked)
    try:
        return plant, locate(plant)
    except ImpossibleReadingError as error:
        if asked.as_json:
            nowhere: dict[str, Any] = dict.fromkeys(("at_m", "low_m", "high_m"))
            echo_json({"method": method, **nowhere, "why": str(error)})
        else:
            click.echo(f"Not possible: {error}.")
        click.get_current_context().exit(1)


def tell(asked: Asked, method: str, locate: "Callable[[Plant], Place]") -> None:
    """Print the place that a method finds."""
    plant, place = found(asked, method, locate)
    if asked.as_json:
        echo_json({"method": method, **place_json(place, asked), "length_m": plant.length_m})
        return
    for line in (
        place_text(place, asked.feet),
        *value_lines(place.values),
        *place_lines(plant, place, asked.feet),
    ):
        click.echo(line)


def place_json(place: "Place", asked: Asked) -> dict[str, Any]:
    """A place as JSON has it: keys end in their unit."""
    answer = {"at_m": place.at_m, "low_m": place.low_m, "high_m": place.high_m}
    if asked.feet:
        answer |= {key[:-1] + "ft": m / FOOT_M for key, m in answer.items()}
    return {
        **answer,
        **place.values,
        "moved_by_m": place.shares_m,
        "notes": list(place.notes),
        "why": None,
        "tolerance": {name: getattr(asked.off, name) for name in asked.off_names},
    }


def place_text(place: "Place", feet: bool) -> str:
    """The place and its band in a line."""
    low, high = length(place.low_m, feet), length(place.high_m, feet)
    return f"{length(place.at_m, feet)} from the near end; from {low} to {high}"


def value_lines(values: dict[str, float]) -> list[str]:
    """What else came of the readings, a line each."""
    lines = []
    for key, value in values.items():
        name, _, unit = key.rpartition("_")
        text = f"{value:.4g} nF" if unit == "nf" else quantity(value, _UNITS[unit])
        lines.append(f"  {name.replace('_', ' '):<20}{text:>14}")
    return lines


def place_lines(plant: "Plant", place: "Place", feet: bool) -> Iterator[str]:
    """The route with the place and its band under it, what moves the place, and the notes."""
    yield ""
    yield from picture(plant, place_marks(place.at_m, place.low_m, place.high_m), feet)
    moved = (f"{name.replace('_', ' ')} {length(m, feet)}" for name, m in place.shares_m.items())
    yield ""
    yield f"moved at most by: {', '.join(moved)}"
    yield from (f"note: {note}" for note in place.notes)
