"""`farend-sim scheme export`: a scheme carried away as C, table, picture, vectors or card."""

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from farend_sim.unit.scheme import Scheme
    from farend_sim.unit_file import UnitFile

FORMS = ("c", "csv", "mermaid", "vectors", "card")


@click.command(short_help="Write a scheme as C, a table, a picture, test vectors or a card.")
@click.argument("file")
@click.option("--as", "form", type=click.Choice(FORMS), required=True, help="What to write.")
@click.option(
    "--unit",
    "unit",
    default="reference",
    show_default=True,
    help="The unit whose times C and vectors have: a file, or the name of a shipped one.",
)
def export(file: str, form: str, unit: str) -> None:
    """Write the scheme of FILE to standard output.

    What `scheme check` finds wrong is told; the scheme is written all the same.
    """
    from farend_sim.files import find_scheme, find_unit
    from tui.commands.scheme_warning import warn

    scheme = find_scheme(file, draft=True)
    warn(scheme)
    click.echo(_written(scheme, form, find_unit(unit)), nl=False)


def _written(scheme: "Scheme", form: str, unit: "UnitFile") -> str:
    if form == "c":
        from farend_sim.scheme_lab.export.c_source import c_source
        from farend_sim.unit import codes

        return c_source(scheme.title, codes.compiled(scheme), unit.timing, unit.electrical.tone_hz)
    if form == "vectors":
        import json

        from farend_sim.scheme_lab.export.vectors import vectors

        return "".join(json.dumps(each) + "\n" for each in vectors(scheme, unit))
    if form == "card":
        from farend_sim.scheme_lab.export.card import card

        return card(scheme)
    from farend_sim.scheme_lab.export.tables import csv_table, mermaid

    return csv_table(scheme) if form == "csv" else mermaid(scheme)
