"""The worksheet at a bench: the methods of `locate` on the pair's record, from the logbook.

Law: it reckons with the record alone, as a technician does, and every number is `locate`'s own.
"""

import io
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
METHODS_ASKED = (
    ("loop", "loop: a short or a strap, by ohms"),
    ("bridge", "bridge: a leak on one leg, over a strap"),
    ("open", "open: an open, by nanofarad"),
    ("both-ends", "both ends: an open, from each end"),
    ("legs", "legs: which leg has a bad joint, by ohms"),
    ("shunt", "shunt: resistance across the pair"),
    ("sections", "sections: which stretch, by looks both ways"),
)
"""Each method, and what it is for: a trouble, by what is read."""


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
    """The latest reading of a unit across two terminals, as it was shown."""
    unit, _, across = what.partition(":")
    wanted = set(across.split("-")) if across else None
    for row in reversed(entries):
        same = row.get("unit") == unit and str(row.get("shown", "")).replace(".", "").isdigit()
        if same and (wanted is None or set(row["across"].split("-")) == wanted):
            return str(row["shown"])
    return ""


def reckoned(scenario: Scenario, method: str, options: str, feet: bool) -> str:
    """What the method says of the record; a mistake in the line is told in its place."""
    with TemporaryDirectory() as folder, redirect_stdout(io.StringIO()) as said:
        record = Path(folder) / "record.toml"
        table = {"format": 1, "plant": table_of(scenario.recorded)}
        record.write_text(toml_text(table), encoding="utf-8")
        words = [method, str(record), *options.split(), *(["--feet"] if feet else [])]
        try:
            locate.main(words, prog_name="locate", standalone_mode=False)
        except click.ClickException as error:
            return error.format_message()
        except click.exceptions.Exit:
            pass
        except (BadFileError, LineError) as error:
            return str(error).replace(str(record), "the record")
        return said.getvalue().replace(str(record), "the record").strip()
