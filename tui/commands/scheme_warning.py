"""A word on standard error about a scheme that may be looked at, and not be used."""

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from farend_sim.unit.scheme import Scheme


def warn(scheme: "Scheme") -> None:
    """Say so where the bench would refuse a scheme."""
    from farend_sim.unit.scheme_problems import hazards

    if hazards(scheme):
        click.echo("This scheme is dangerous; see `farend-sim scheme check`.", err=True)
