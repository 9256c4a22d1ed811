"""`locate open` and `locate both-ends`: places by capacitance, and by what two ends share."""

from typing import TYPE_CHECKING

import click

from tui.commands.answers import Number
from tui.commands.locating.answer import tell
from tui.commands.locating.options import NF, OHM, OHMS_OFF, SOME_OHM, Asked, with_record

if TYPE_CHECKING:
    from line_model.worksheet.farads import Across

_ACROSS = click.option(
    "--across",
    type=click.Choice(("pair", "leg")),
    default="pair",
    show_default=True,
    help="Between the legs, both open; or the open leg to the sheath, its mate grounded.",
)


@click.command("open", short_help="An open, by capacitance.")
@with_record("farad_percent", "farad_nf", "capacitance_percent")
@click.option("--nf", type=NF, required=True, help="Read, leads taken off.")
@_ACROSS
@click.option(
    "--test-hz",
    type=Number(0.0, 4000.0, "Hz"),
    default=0.0,
    show_default=True,
    help="The meter's frequency; 0 for one that counts charge and waits.",
)
@click.option(
    "--unit-nf",
    type=Number(0.0, 1e6, "nF"),
    default=0.0,
    show_default=True,
    help="A unit's receiver or a ringer on this side of the open; taken off.",
)
def open_(asked: Asked, nf: float, across: str, test_hz: float, unit_nf: float) -> None:
    """Tell where an open in the pair of RECORD shows so much capacitance."""
    from line_model.worksheet import open as by_farads

    side: Across = "leg" if across == "leg" else "pair"
    tell(
        asked,
        "open",
        lambda plant: by_farads.locate(plant, nf, side, test_hz, unit_nf, asked.off),
    )


@click.command("both-ends", short_help="An open or a short, by readings from both ends.")
@with_record(*OHMS_OFF, "farad_percent", "farad_nf", "capacitance_percent", "uneven_percent")
@click.option("--near-nf", type=NF, help="An open, from the near end.")
@click.option("--far-nf", type=NF, help="The same open, from the far end.")
@_ACROSS
@click.option("--near-ohm", type=OHM, help="A short, from the near end, the far end open.")
@click.option("--far-ohm", type=OHM, help="The same short, from the far end, the near end open.")
@click.option("--good-ohm", type=SOME_OHM, help="A like pair's loop. Left out: by the record.")
def both_ends_(
    asked: Asked,
    near_nf: float | None,
    far_nf: float | None,
    across: str,
    near_ohm: float | None,
    far_ohm: float | None,
    good_ohm: float | None,
) -> None:
    """Tell where the trouble of RECORD lies that reads so from each end.

    Give --near-nf and --far-nf for an open, --near-ohm and --far-ohm for a short with any
    resistance in it: what both readings share falls out.
    """
    from line_model.worksheet import both_ends

    nf, ohm = (near_nf, far_nf), (near_ohm, far_ohm)
    side: Across = "leg" if across == "leg" else "pair"
    if near_nf is not None and far_nf is not None and ohm == (None, None) and good_ohm is None:
        a, b = near_nf, far_nf
        tell(asked, "both-ends", lambda it: both_ends.locate_open(it, a, b, side, asked.off))
    elif near_ohm is not None and far_ohm is not None and nf == (None, None):
        c, d = near_ohm, far_ohm
        tell(asked, "both-ends", lambda it: both_ends.locate_short(it, c, d, good_ohm, asked.off))
    else:
        raise click.UsageError(
            "expected --near-nf with --far-nf, or --near-ohm with --far-ohm, and no others"
        )
