"""`locate loop`, `locate legs` and `locate shunt`: places by an ohmmeter."""

from typing import TYPE_CHECKING

import click

from tui.commands.answers import echo_json
from tui.commands.locating.answer import found, place_json, place_lines, place_text, tell
from tui.commands.locating.options import OHM, OHMS_OFF, SOME_OHM, Asked, with_record

if TYPE_CHECKING:
    from line_model.worksheet.legs import Legs

_CONTACT = click.option(
    "--contact-ohm", type=OHM, default="0", show_default=True, help="The far contact; taken off."
)
_LEAD = click.option(
    "--lead-ohm",
    type=OHM,
    default="0",
    show_default=True,
    help="Both test leads together, where they were not zeroed; taken off.",
)


@click.command("loop", short_help="A short or strap, by ohms across the pair.")
@with_record(*OHMS_OFF)
@click.option("--ohm", type=OHM, required=True, help="Read across tip and ring.")
@_LEAD
@_CONTACT
def loop_(asked: Asked, ohm: float, lead_ohm: float, contact_ohm: float) -> None:
    """Tell where a short or strap across the pair of RECORD reads so many ohms."""
    from line_model.worksheet import loop

    tell(asked, "loop", lambda plant: loop.locate(plant, ohm, lead_ohm, contact_ohm, asked.off))


@click.command("shunt", short_help="Resistance across the pair, by two readings.")
@with_record(*OHMS_OFF, "uneven_percent")
@click.option("--idle-ohm", type=OHM, required=True, help="Across the pair, far end open.")
@click.option("--strapped-ohm", type=OHM, required=True, help="The same, far end strapped.")
@click.option(
    "--good-ohm",
    type=SOME_OHM,
    help="The strapped loop without the trouble: a like pair, or an earlier reading. Left out: by "
    "the record, which leaves a wide band.",
)
@_CONTACT
def shunt_(
    asked: Asked, idle_ohm: float, strapped_ohm: float, good_ohm: float | None, contact_ohm: float
) -> None:
    """Tell where resistance stands across the pair of RECORD, by readings idle and strapped."""
    from line_model.worksheet import shunt

    tell(
        asked,
        "shunt",
        lambda plant: shunt.locate(plant, idle_ohm, strapped_ohm, good_ohm, contact_ohm, asked.off),
    )


@click.command("legs", short_help="Each leg by itself, by three readings.")
@with_record(*OHMS_OFF, "unbalance_percent")
@click.option("--tip-ring", "tip_ring_ohm", type=OHM, required=True, help="Ohms across the legs.")
@click.option("--tip-ground", "tip_ground_ohm", type=OHM, required=True, help="Tip to sheath.")
@click.option("--ring-ground", "ring_ground_ohm", type=OHM, required=True, help="Ring to sheath.")
@_CONTACT
def legs_(
    asked: Asked,
    tip_ring_ohm: float,
    tip_ground_ohm: float,
    ring_ground_ohm: float,
    contact_ohm: float,
) -> None:
    """Part three readings into tip, ring and return: T = (TR + TG - RG) / 2.

    All three are tied at one place, such as both legs to ground at the far end. A series joint
    cannot be ranged from one end by ohms: this tells which leg and how many.
    """
    from line_model.worksheet import legs

    readings = legs.Readings(
        tip_ring=tip_ring_ohm, tip_ground=tip_ground_ohm, ring_ground=ring_ground_ohm
    )
    plant, answer = found(
        asked, "legs", lambda plant: legs.locate(plant, readings, contact_ohm, asked.off)
    )
    if asked.as_json:
        echo_json(
            {
                "method": "legs",
                "tip_ohm": answer.tip_ohm,
                "ring_ohm": answer.ring_ohm,
                "ground_ohm": answer.ground_ohm,
                "off_ohm": answer.off_ohm,
                "difference_ohm": answer.difference_ohm,
                "difference_off_ohm": answer.difference_off_ohm,
                "allowed_ohm": answer.allowed_ohm,
                "high_leg": answer.high_leg,
                **place_json(answer.tie, asked),
                "length_m": plant.length_m,
            }
        )
        return
    for name, ohm in (
        ("tip", answer.tip_ohm),
        ("ring", answer.ring_ohm),
        ("return", answer.ground_ohm),
    ):
        click.echo(f"  {name:<8}{ohm:>10.1f} ohm, to {answer.off_ohm:.1f}")
    click.echo(_verdict(answer))
    click.echo(f"the three are tied {place_text(answer.tie, asked.feet)}")
    for line in place_lines(plant, answer.tie, asked.feet):
        click.echo(line)


def _verdict(answer: "Legs") -> str:
    more = f"{abs(answer.difference_ohm):.1f} ohm, to {answer.difference_off_ohm:.1f}"
    if answer.high_leg is None:
        return f"the legs are alike: they differ by {more}; {answer.allowed_ohm:.1f} is allowed"
    return f"{answer.high_leg} has more than its mate: {more}; a series joint, at no known place"
