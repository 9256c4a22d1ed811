"""`farend-sim line`: what a pair measures and what the unit hears, in one state of the unit."""

from typing import Any

import click

from farend_sim.said import quantity
from farend_sim.unit.table import STATES
from tui.commands.answers import Number, echo_json
from tui.commands.options import as_json


@click.command(short_help="Print what the near end measures, and whether the unit hears.")
@click.argument("scenario")
@click.option(
    "--state", type=click.Choice(STATES), default="idle", show_default=True, help="Of the unit."
)
@click.option(
    "--at",
    "at_hz",
    type=Number(1e-3, 1e6, "Hz"),
    multiple=True,
    metavar="HZ",
    help="A frequency; may be given again. Left out: the eight keypad frequencies.",
)
@as_json
def line(scenario: str, state: str, at_hz: tuple[float, ...], as_json: bool) -> None:
    """Print what the bare near end of SCENARIO measures, and whether the unit hears its keypad.

    SCENARIO is a file or the name of a shipped one.
    """
    from farend_sim.bench.line_report import line_report
    from farend_sim.files import load_situation

    situation = load_situation(scenario)
    report = line_report(situation, state, at_hz or None)
    if as_json:
        echo_json(report)
    else:
        _print(situation.scenario.title or scenario, report)


def _print(title: str, report: dict[str, Any]) -> None:
    click.echo(f"{title}; the unit's state: {report['state']}")
    _print_dc(report["dc"])
    _print_ac(report["ac"])
    _print_receiver(report["receiver"], report["state"])


def _print_dc(dc: dict[str, dict[str, float | None]]) -> None:
    click.echo(f"\n  {'across':<14}{'resistance':>14}{'voltage':>14}")
    for across, reading in dc.items():
        ohm = quantity(reading["ohm"], "ohm", "no path")
        click.echo(f"  {across:<14}{ohm:>14}{quantity(reading['volt'], 'V', 'none'):>14}")


def _print_ac(ac: list[dict[str, Any]]) -> None:
    click.echo(f"\n  {'frequency':<14}{'gain to unit':>14}{'input, tip to ring':>28}")
    for each in ac:
        gain = "none" if each["gain_db"] is None else f"{each['gain_db']:.2f} dB"
        click.echo(f"  {each['hz']:<11g} Hz{gain:>14}{_complex(each['input_ohm']):>28}")


def _complex(ohm: list[float] | None) -> str:
    """Real and imaginary part of an impedance."""
    if ohm is None:
        return "no path"
    sign = "-" if ohm[1] < 0 else "+"
    return f"{ohm[0]:.5g} {sign} j{abs(ohm[1]):.5g} ohm"


def _print_receiver(receiver: dict[str, Any], state: str) -> None:
    from farend_sim.bench.line_report import BY_LEVEL_ALONE

    floor = receiver["floor_dbm"]
    click.echo(f"\n  {'keypad tone':<14}{'at the unit':>14}{'over its floor':>18}")
    for hz, level in receiver["level_dbm"].items():
        at_unit = "none" if level is None else f"{level:.1f} dBm"
        over = "" if level is None else f"{level - floor:+.1f} dB"
        click.echo(f"  {hz + ' Hz':<14}{at_unit:>14}{over:>18}")
    if receiver["hears"]:
        limits = f", {BY_LEVEL_ALONE[state]}" if state in BY_LEVEL_ALONE else ""
        click.echo(f"\n  The unit hears the keypad{limits}.")
    else:
        click.echo(f"\n  The unit does not hear: {receiver['why']}")
