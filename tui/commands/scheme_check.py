"""`farend-sim scheme check`: all that can come about with a scheme, and what is wrong with it."""

from itertools import groupby
from typing import Any

import click

from tui.commands.answers import echo_json
from tui.commands.options import as_json

_SHOWN = 3
"""So many findings of a kind are printed; --json has them all."""


@click.command(short_help="Find what is wrong with a scheme, with the keys that show it.")
@click.argument("file")
@click.option(
    "--on",
    "plant",
    metavar="SCENARIO",
    default="good-pair",
    show_default=True,
    help="The plant and the unit that say in which states the unit is deaf.",
)
@as_json
@click.pass_context
def check(ctx: click.Context, file: str, plant: str, as_json: bool) -> None:
    """Check the scheme of FILE against everything that can be keyed.

    Exit code 1 if anything worse than a note was found.
    """
    from farend_sim.files import find_scheme, load_situation
    from farend_sim.scheme_lab.check import check as lab
    from farend_sim.scheme_lab.check.check_report import report_json

    answer = report_json(lab.check(find_scheme(file, draft=True), load_situation(plant)))
    answer["on"] = plant
    if as_json:
        echo_json(answer)
    else:
        _print(answer)
    ctx.exit(0 if answer["good"] else 1)


def _print(answer: dict[str, Any]) -> None:
    click.echo(answer["title"])
    click.echo(f"{answer['moments']} moments and {answer['steps']} steps of scheme and unit")
    deaf = ", ".join(answer["deaf"]) or "no state"
    click.echo(f"deaf on {answer['on']}: {deaf}")
    for state, how in answer["hears"].items():
        click.echo(f"hears in {state} {how}")
    _print_slips(answer["slips"])
    _print_distance(answer)
    findings = answer["findings"]
    if not findings:
        click.echo("\nNothing found.")
    for kind, group in groupby(findings, key=lambda each: each["kind"]):
        _print_kind(kind, list(group))


def _print_slips(slips: dict[str, Any]) -> None:
    of = f"{slips['arguments_played']} of {slips['arguments']} arguments"
    click.echo(f"\n{slips['played']} single slips played ({of}), {slips['harmful']} do harm\n")
    outcomes = [key for key in slips["matrix"][0] if key not in ("meant", "slip")]
    heads = "".join(f"{outcome.replace('_', ' '):>18}" for outcome in outcomes)
    click.echo(f"  {'slip':<9}{heads}")
    for kind in dict.fromkeys(row["slip"] for row in slips["matrix"]):
        rows = [row for row in slips["matrix"] if row["slip"] == kind]
        sums = "".join(f"{sum(row[outcome] for row in rows):>18}" for outcome in outcomes)
        click.echo(f"  {kind:<9}{sums}")


def _print_distance(answer: dict[str, Any]) -> None:
    most = max((each["slips"] for each in answer["detours"]), default=0)
    more = " or more" if not most else ""
    click.echo(f"\nDistance: {_slips(answer['distance'])}{more} from a command to another.")
    for slips in (1, 2):
        ways = [each for each in answer["detours"] if each["slips"] == slips]
        if ways:
            way = max(ways, key=lambda each: float(each["chance"] * each["price"]))
            keyed = f"{way['keyed']} for {way['meant_keys']} does {way['did']}"
            click.echo(
                f"  Worst by {slips}: {keyed}, once in {1 / way['chance']:,.0f} dials in a hurry"
            )


def _print_kind(kind: str, findings: list[dict[str, Any]]) -> None:
    from farend_sim.scheme_lab.check.finding import Keyed, keys_text

    click.echo(f"\n{findings[0]['severity'].upper()} {kind}")
    for finding in findings[:_SHOWN]:
        click.echo(f"  {finding['what']}")
        if finding["keys"]:
            click.echo(f"    {keys_text(Keyed(**each) for each in finding['keys'])}")
    if len(findings) > _SHOWN:
        click.echo(f"  and {len(findings) - _SHOWN} more")
    click.echo(f"  To do: {findings[0]['do']}.")


def _slips(count: int) -> str:
    return "1 slip" if count == 1 else f"{count} slips"
