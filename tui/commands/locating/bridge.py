"""`locate bridge`: a leak on a leg, by a bridge and a strap at the far end."""

from typing import TYPE_CHECKING

import click

from tui.commands.answers import Number
from tui.commands.locating.answer import tell
from tui.commands.locating.options import OHM, OHMS_OFF, SOME_OHM, Asked, with_record

if TYPE_CHECKING:
    from line_model.worksheet.bridge import Dial, Slide

_ARM = Number(1e-9, 1e9, "an arm")


@click.command("bridge", short_help="A leak on a leg, by a bridge and a far strap.")
@with_record(*OHMS_OFF, "fraction", "uneven_percent", "unbalance_percent")
@click.option(
    "--fraction", "slide", type=Number(0.0, 1.0, "a share"), help="Murray: the bad leg's share."
)
@click.option("--dial-ohm", type=OHM, help="Varley: ohms in series with the bad leg.")
@click.option(
    "--arms",
    nargs=2,
    type=_ARM,
    metavar="GOOD BAD",
    help="The arms next to the good and to the bad leg: alone, a Murray reading; with a dial, its "
    "arms. Left out, a dial's arms are equal.",
)
@click.option("--loop-ohm", type=SOME_OHM, help="The loop through the strap. A dial needs it.")
@click.option(
    "--good-ohm",
    type=SOME_OHM,
    help="One leg of a separate good pair by itself. Left out: the good leg is the bad one's mate.",
)
@click.option("--strap-ohm", type=OHM, default="0", show_default=True, help="The strap's contact.")
@click.option(
    "--lead-ohm", type=OHM, default="0", show_default=True, help="Each test lead, if not zeroed."
)
@click.option(
    "--by-ohms",
    is_flag=True,
    help="Count ohms off by the record's gauge and temperature. Left out: by proportion of the "
    "loop read, where both fall out.",
)
def bridge_(
    asked: Asked,
    slide: float | None,
    dial_ohm: float | None,
    arms: tuple[float, float] | None,
    loop_ohm: float | None,
    good_ohm: float | None,
    strap_ohm: float,
    lead_ohm: float,
    by_ohms: bool,
) -> None:
    """Tell where on the bad leg of RECORD a leak lies that balances the bridge so.

    The bad leg is strapped at the far end to its mate, or to a leg of a separate good pair.
    """
    from line_model.worksheet import bridge

    reading = _reading(slide, dial_ohm, arms)
    if loop_ohm is None and (dial_ohm is not None or by_ohms):
        raise click.UsageError("found no --loop-ohm, expected one with a dial and with --by-ohms")
    hookup = bridge.Hookup(
        reading=reading,
        loop_ohm=loop_ohm,
        good_ohm=good_ohm,
        strap_ohm=strap_ohm,
        lead_ohm=lead_ohm,
    )
    tell(asked, "bridge", lambda plant: bridge.locate(plant, hookup, by_ohms, asked.off))


def _reading(
    slide: float | None, dial_ohm: float | None, arms: tuple[float, float] | None
) -> "Slide | Dial":
    """What was read: one of a share, two arms, or a dial with its arms."""
    from line_model.worksheet.bridge import Dial, Slide

    if dial_ohm is not None and slide is None:
        good, bad = arms or (1.0, 1.0)
        return Dial(dial_ohm=dial_ohm, good_arm=good, bad_arm=bad)
    if dial_ohm is None and slide is None and arms is not None:
        return Slide(fraction=arms[1] / sum(arms))
    if dial_ohm is None and slide is not None and arms is None:
        return Slide(fraction=slide)
    found = [
        name
        for name, value in (("--fraction", slide), ("--dial-ohm", dial_ohm), ("--arms", arms))
        if value is not None
    ]
    raise click.UsageError(
        f"found {' and '.join(found) or 'no reading'}, expected one of --fraction, --arms, "
        "--dial-ohm, or --dial-ohm with --arms"
    )
