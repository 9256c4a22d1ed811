"""What the expert says of readings that somebody else took, and what to read next."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json

if TYPE_CHECKING:
    from farend_sim.drill.expert.expert import Expert
    from farend_sim.drill.expert.looks import Look
    from farend_sim.drill.solving.solve import Asks
    from farend_sim.unit.table import PairState


def weighable(who: "Expert", looks: "Sequence[Look]", file: Path, help_: str = "") -> "list[Look]":
    """The readings of a file that the expert can weigh; the others are passed over, and counted.

    Args:
        who: knows some meters.
        looks: all readings of the file.
        file: what it is called.
        help_: what can be done where others are to be weighed.

    Raises:
        BadFileError: none of them tells anything.
    """
    from farend_sim.drill.expert.laws import has_law, tells
    from farend_sim.errors import BadFileError

    laws = who.forecast.meters
    known = [look for look in looks if has_law(laws, look.setting)]
    if left := len(looks) - len(known):
        known_of = f"of such a meter, so clipped, the expert knows nothing{help_}"
        click.echo(f"{left} readings passed over: {known_of}", err=True)
    if not any(tells(laws, look) for look in known):
        raise BadFileError(f"{file}: found nothing to weigh, expected a reading that tells")
    return known


def tell(
    who: "Expert",
    looks: "Sequence[Look]",
    asks: "Asks",
    idle: "PairState",
    as_json: bool,
    heard: bool | None = None,
) -> bool:
    """Print the ranking and the reading that would tell most; whether it is pinned down."""
    from farend_sim.drill.expert.choice import Choice
    from farend_sim.drill.solving.opinion_text import misfit_json, ranking, ranking_lines
    from farend_sim.drill.solving.solve import what_next

    opinion = who.opinion(looks, heard)
    best = what_next(who, opinion, looks, heard is not False, asks, idle)
    pinned, next_ = best is None, best if isinstance(best, Choice) else None
    if as_json:
        read = None if next_ is None else {"read": next_.setting.words, "nats": next_.nats}
        of = {"misfit": misfit_json(opinion), "ranking": ranking(opinion)}
        echo_json({"pinned": pinned, **of, "next": read})
        return pinned
    for line in ranking_lines(opinion):
        click.echo(line)
    click.echo("Pinned down." if pinned else "Not pinned down.")
    if next_ is not None:
        told = "" if next_.nats is None else f" ({next_.nats:.2f} nat)"
        click.echo(f"Most would tell: {next_.setting.words}{told}.")
    return pinned
