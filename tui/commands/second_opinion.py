"""What the expert says of readings that somebody else took, and what to read next."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json

if TYPE_CHECKING:
    from farend_sim.drill.expert import Expert
    from farend_sim.drill.looks import Look, State
    from farend_sim.drill.solve import Asks


def tell(
    who: "Expert",
    looks: "Sequence[Look]",
    asks: "Asks",
    idle: "State",
    as_json: bool,
    heard: bool | None = None,
) -> bool:
    """Print the ranking and the reading that would tell most; whether it is pinned down."""
    from farend_sim.drill.choice import WORTH
    from farend_sim.drill.opinion_text import misfit_json, ranking, ranking_lines
    from farend_sim.drill.solve import next_best

    opinion = who.opinion(looks, heard)
    pinned = opinion.pinned(asks.within_m, asks.ohm)
    best = next_best(who, opinion, looks, heard is not False, asks, idle)
    worth = best if best is not None and best.nats >= WORTH else None
    # what sorts suspects apart tells nothing where none of them is right
    worth = worth if opinion.misfit.explained else None
    if as_json:
        next_ = None if worth is None else {"read": worth.setting.words, "nats": worth.nats}
        of = {"misfit": misfit_json(opinion), "ranking": ranking(opinion)}
        echo_json({"pinned": pinned, **of, "next": next_})
        return pinned
    for line in ranking_lines(opinion):
        click.echo(line)
    click.echo("Pinned down." if pinned else "Not pinned down.")
    if worth is not None:
        click.echo(f"Most would tell: {worth.setting.words} ({worth.nats:.2f} nat).")
    return pinned
