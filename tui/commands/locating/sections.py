"""`locate sections`: which stretch holds the trouble, by looks from access points."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from farend_sim.route_drawing import Mark
from farend_sim.said import length, quantity
from tui.commands.answers import echo_json
from tui.commands.locating.answer import found
from tui.commands.locating.options import SOME_OHM, Asked, Ohms, Place, with_record
from tui.commands.locating.picture import picture

if TYPE_CHECKING:
    from line_model.plant import Plant
    from line_model.worksheet.sections import Analysis, Judged, Look


@click.command("sections", short_help="Which stretch holds it, by looks from access points.")
@with_record()
@click.option(
    "--look",
    "looks",
    type=(Place(), click.Choice(("near", "far")), Ohms(over=True)),
    multiple=True,
    required=True,
    metavar="PLACE near|far OHM",
    help="A reading from an access point with the pair opened there, toward one end; may be given "
    "again. PLACE is a distance or the access point's name, OHM is such as 40k, 2.5M or over.",
)
@click.option(
    "--limit-ohm",
    type=SOME_OHM,
    help="Good at or above. Left out: 805 megohm-km, 7 CFR 1755.403(c)(4), by the length seen.",
)
def sections_(
    asked: Asked, looks: tuple[tuple[float | str, str, float], ...], limit_ohm: float | None
) -> None:
    """Tell which stretches of RECORD hold the trouble, by looks from several access points."""
    from line_model.worksheet import sections

    plant, answer = found(
        asked,
        "sections",
        lambda plant: sections.locate(plant, _looks(plant, looks), limit_ohm),
    )
    if asked.as_json:
        echo_json(_json(plant, answer))
        return
    for line in _lines(plant, answer, asked.feet):
        click.echo(line)


def _looks(plant: "Plant", typed: tuple[tuple[float | str, str, float], ...]) -> "tuple[Look, ...]":
    """The looks, each of which sees something of the route."""
    from line_model.worksheet.sections import Look

    looks = [
        Look(at_m=_metres(plant, place), toward="near" if way == "near" else "far", ohm=ohm)
        for place, way, ohm in typed
    ]
    for look in looks:
        if look.at_m > plant.length_m or look.at_m == (
            0.0 if look.toward == "near" else plant.length_m
        ):
            raise click.UsageError(
                f"--look: found {look.at_m:.9g} m toward the {look.toward} end, expected a place "
                f"that sees something of the route, which ends at {plant.length_m:.9g} m"
            )
    return tuple(looks)


def _metres(plant: "Plant", place: float | str) -> float:
    """A place as the record has it."""
    if isinstance(place, float):
        return _snapped(place, plant.length_m)
    known = {access.name: access.at_m for access in plant.access}
    if place not in known:
        there = ", ".join(known) or "it has none"
        raise click.UsageError(
            f"--look: found {place!r}, expected a distance or an access point of the record: "
            f"{there}"
        )
    return known[place]


def _snapped(at_m: float, length_m: float) -> float:
    """The far end typed is the far end: the route is a sum of lengths."""
    return length_m if math.isclose(at_m, length_m, rel_tol=1e-9) else at_m


def _json(plant: "Plant", answer: "Analysis") -> dict[str, object]:
    return {
        "method": "sections",
        "stretches": [
            {"from_m": each.from_m, "to_m": each.to_m, "holds": each.holds}
            for each in answer.stretches
        ],
        "looks": [
            {
                "at_m": each.look.at_m,
                "toward": each.look.toward,
                "ohm": each.look.ohm,
                "limit_ohm": each.limit_ohm,
                "good": each.good,
            }
            for each in answer.looks
        ],
        "next_m": answer.next_m,
        "both_ways_m": list(answer.both_ways_m),
        "length_m": plant.length_m,
        "why": None,
    }


def _lines(plant: "Plant", answer: "Analysis", feet: bool) -> Iterator[str]:
    for each in answer.looks:
        yield _judged(each, feet)
    for part in answer.stretches:
        what = "trouble" if part.holds else "trouble may be"
        yield f"{what} between {length(part.from_m, feet)} and {length(part.to_m, feet)}"
    if not answer.stretches:
        yield "no look is bad: nothing is suspect"
    for at_m in answer.both_ways_m:
        yield f"bad both ways from {_joint(plant, at_m, feet)}: it may be the joint itself"
    if answer.next_m is not None:
        yield f"look next at {_joint(plant, answer.next_m, feet)}"
    marks = [Mark(part.from_m, part.to_m, "#" if part.holds else "?") for part in answer.stretches]
    yield from ("", *picture(plant, marks, feet))


def _joint(plant: "Plant", at_m: float, feet: bool) -> str:
    """A joint, by its name where it has one."""
    named = [f"{access.name}, the joint" for access in plant.access if access.at_m == at_m]
    return f"{named[0] if named else 'the joint'} at {length(at_m, feet)}"


def _judged(each: "Judged", feet: bool) -> str:
    look = each.look
    at, read = length(look.at_m, feet), quantity(look.ohm, "ohm", "over")
    verdict = "good" if each.good else "bad"
    limit = quantity(each.limit_ohm, "ohm")
    return f"  from {at:>8} toward the {look.toward:<4} {read:>12}  {verdict}; limit {limit}"
