"""The worksheet at a bench: the methods of `locate` on the pair's record, from the logbook.

Law: it reckons with the record alone, as a technician does, and every number is `locate`'s own.
"""

import io
import json
from collections.abc import Mapping, Sequence
from contextlib import redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import click

from farend_sim.errors import BadFileError
from farend_sim.loading.toml_text import table_of, toml_text
from farend_sim.scenario import Scenario
from line_model.errors import LineError
from tui.commands.locate import locate
from tui.questions import Answers

WANTED: dict[str, str] = {
    "loop": "--ohm {ohm:tip-ring}",
    "bridge": "--fraction {fraction}",
    "open": "--nf {nf}",
    "both-ends": "--near-nf {nf} --far-nf ",
    "legs": (
        "--tip-ring {ohm:tip-ring} --tip-ground {ohm:tip-sheath} --ring-ground {ohm:ring-sheath}"
    ),
    "shunt": "--idle-ohm  --strapped-ohm {ohm:tip-ring}",
    "sections": "--look near far {ohm:tip-ring}",
}
"""What each method is given; in braces, what the logbook's latest reading fills in."""


def methods() -> Answers:
    """Each method, and what it is for: a trouble, by what is read."""
    with click.Context(locate) as context:
        commands = {name: locate.get_command(context, name) for name in WANTED}
    short = {name: command.get_short_help_str(80) for name, command in commands.items() if command}
    return tuple(
        (name, f"{name}: {of[:1].lower()}{of[1:].rstrip('.')}") for name, of in short.items()
    )


def filled(method: str, entries: Sequence[Mapping[str, Any]]) -> str:
    """The method's line with the logbook's latest readings in their places."""
    line, at = "", 0
    text = WANTED[method]
    while (start := text.find("{", at)) >= 0:
        end = text.index("}", start)
        line += text[at:start] + _latest(text[start + 1 : end], entries)
        at = end + 1
    return (line + text[at:]).rstrip()


def _latest(what: str, entries: Sequence[Mapping[str, Any]]) -> str:
    """The latest share of a name, or reading of a unit across two terminals, as it was shown."""
    unit, _, across = what.partition(":")
    wanted = set(across.split("-")) if across else None
    for row in reversed(entries):
        if unit in row:
            return f"{row[unit]:.4f}"
        same = row.get("unit") == unit and str(row.get("shown", "")).replace(".", "").isdigit()
        if same and (wanted is None or set(row["across"].split("-")) == wanted):
            return str(row["shown"])
    return ""


def reckoned(scenario: Scenario, words: Sequence[str], feet: bool) -> str:
    """What `locate` says on the record: method and options in, mistakes told in their place."""
    with TemporaryDirectory() as folder, redirect_stdout(io.StringIO()) as said:
        record = Path(folder) / "record.toml"
        table = {"format": 1, "plant": table_of(scenario.recorded)}
        record.write_text(toml_text(table), encoding="utf-8")
        weighed = bool(words) and words[0].partition("=")[0] == "--readings"
        shown = ["--feet"] if feet and not weighed else []
        named = 2 if weighed and "=" not in words[0] else 1  # words before the record
        on_record = [*words[:named], str(record), *words[named:], *shown]
        given = ["--help"] if not words else words if "--help" in words else on_record
        try:
            locate.main(list(given), prog_name="locate", standalone_mode=False)
        except click.ClickException as error:
            return error.format_message()
        except click.exceptions.Exit:
            pass
        except (BadFileError, LineError) as error:
            return str(error).replace(str(record), "the record")
        return said.getvalue().replace(str(record), "the record").strip()


def placed_m(scenario: Scenario, words: Sequence[str]) -> tuple[float, float] | None:
    """The place it comes to, and how far it may be off to either side; None if to no place [m]."""
    try:
        told = json.loads(reckoned(scenario, [*words, "--json"], feet=False))
    except ValueError:  # words: a mistake, or help
        return None
    at_m, low_m, high_m = (told.get(key) for key in ("at_m", "low_m", "high_m"))
    if at_m is None or low_m is None or high_m is None:
        return None
    return at_m, max(at_m - low_m, high_m - at_m)
