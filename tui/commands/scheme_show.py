"""`farend-sim scheme show`: a scheme as a card to carry."""

import click


@click.command(short_help="Print a scheme as a card to carry.")
@click.argument("file")
def show(file: str) -> None:
    """Print the scheme of FILE as a card to carry."""
    from farend_sim.files import find_scheme
    from farend_sim.scheme_lab.export.card import card
    from tui.commands.scheme_warning import warn

    scheme = find_scheme(file, draft=True)
    warn(scheme)
    click.echo(card(scheme), nl=False)
