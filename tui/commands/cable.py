"""`farend-sim cable`: the constants that the line model uses for a gauge."""

from typing import Any

import click

from tui.commands.answers import Number, echo_json
from tui.commands.options import as_json


@click.command()
@click.argument("gauge")
@click.option(
    "--temperature",
    "temperature_c",
    type=Number(-60.0, 90.0, "C"),
    default=20.0,
    show_default=True,
    help="Temperature of the cable, in C.",
)
@as_json
def cable(gauge: str, temperature_c: float, as_json: bool) -> None:
    """Print the constants of a cable, each with its source.

    GAUGE is AWG, such as 24, or a diameter, such as 0.5mm.
    """
    from line_model.cable import constants_json

    constants = constants_json(gauge, temperature_c)
    if as_json:
        echo_json(constants)
    else:
        _print(constants)


def _print(constants: dict[str, Any]) -> None:
    click.echo(f"Gauge {constants['gauge']} at {constants['temperature_c']:g} C")
    for key, source in constants["source"].items():
        click.echo(f"  {key:<22}{constants[key]:>12.6g}  {source}")
