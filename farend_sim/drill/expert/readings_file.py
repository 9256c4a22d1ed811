"""Readings as a file: what was read how, by whoever took them, of a drill or of a real pair.

Two forms, by the file's first character. Columns with a head line: `meter,across,value` and, as
wanted, `state`, `lead`, `zeroed`, and a bridge's `loop_ohm`. Or JSON Lines with the same keys, as a
logbook has them; lines that are no readings, or none from the near end, are passed over. `value` is
the number shown, the two ends between which a display wandered, `210 .. 260`, or a word that such a
meter may show: `over`. All faults are told at once.
"""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, cast

from farend_sim.bench.steps.meter import ACROSS
from farend_sim.drill.expert.looks import LEADS, Look, Setting, look_shown
from farend_sim.errors import Problem, unknown
from farend_sim.loading.columns import lines_of
from farend_sim.loading.document import read_text
from farend_sim.loading.messages import bad_file
from farend_sim.unit.table import STATES, PairState
from line_model.meters.cycle import MeterFile
from line_model.meters.display import OVER_RANGE
from line_model.meters.leads import BAD_GOOD
from line_model.neighbours import leg_of

COLUMNS = ("meter", "across", "value", "state", "lead", "zeroed", "loop_ohm")
NEEDED = COLUMNS[:3]
_YES = {"yes": True, "no": False, "true": True, "false": False, "1": True, "0": False, "": True}
Row = tuple[int, Mapping[str, str]]
Placed = tuple[int | None, Problem]


def read_looks(path: Path, meters: Mapping[str, MeterFile]) -> list[Look]:
    """Read a file of readings.

    Raises:
        BadFileError: it has faults; names all of them with their lines.
    """
    return parse_looks(read_text(path, str(path)), str(path), meters)


def parse_looks(text: str, filename: str, meters: Mapping[str, MeterFile]) -> list[Look]:
    """The same of a text.

    Raises:
        BadFileError: likewise.
    """
    faults: list[Placed] = []
    as_json = text.lstrip().startswith("{")
    rows = list(_from_json(text, faults) if as_json else _from_columns(text, faults))
    if not faults and not rows:
        faults.append((1, Problem("", "no reading", "at least one")))
    for line, row in rows:
        faults += [(line, problem) for problem in _problems(row, meters)]
    if faults:
        raise bad_file(filename, faults)
    return [_look(row, meters[row["meter"]]) for _, row in rows]


def _from_columns(text: str, faults: list[Placed]) -> Iterator[Row]:
    lines = lines_of(text)
    if not lines:
        return
    (head_line, names), *rest = lines
    missing = [name for name in NEEDED if name not in names]
    strange = [name for name in names if name not in COLUMNS]
    expected = f"the columns {','.join(NEEDED)} and optionally {','.join(COLUMNS[3:])}"
    if missing or strange or len(set(names)) < len(names):
        faults.append((head_line, Problem("", ",".join(names)[:60], expected)))
        return
    for line, cells in rest:
        if len(cells) != len(names):
            faults.append((line, Problem("", f"{len(cells)} values", f"{len(names)}")))
        else:
            yield line, dict(zip(names, cells, strict=True))


def _from_json(text: str, faults: list[Placed]) -> Iterator[Row]:
    for line, one in enumerate(text.splitlines(), 1):
        if not one.strip():
            continue
        try:
            table = json.loads(one)
        except ValueError:
            faults.append((line, Problem("", one[:40], "a JSON object")))
            continue
        if not isinstance(table, dict):
            faults.append((line, Problem("", one[:40], "a JSON object")))
        elif "meter" in table and {"value", "shown"} & table.keys() and "where" not in table:
            yield line, _cells(table)


def _cells(table: Mapping[str, Any]) -> dict[str, str]:
    """A line's keys as cells; what the display showed stands before the number behind it."""
    shown = table.get("shown")
    value = shown if isinstance(shown, str) and shown else table.get("value")
    cells = {key: str(table[key]) for key in COLUMNS if key in table and key != "value"}
    return {**cells, "value": OVER_RANGE if value is None else str(value)}


# -- what a row says -------------------------------------------------------------------------------


def _problems(row: Mapping[str, str], meters: Mapping[str, MeterFile]) -> Iterator[Problem]:
    meter = row.get("meter", "")
    if meter not in meters:
        yield unknown("meter", meter, tuple(meters))
    elif not _is_hookup(across := row.get("across", ""), known := _hookups(meters[meter])):
        yield unknown("across", across, known)
    for key, words in (("state", STATES), ("lead", LEADS)):
        if row.get(key) and row[key] not in words:
            yield unknown(key, row[key], words)
    if row.get("zeroed", "").lower() not in _YES:
        yield Problem("zeroed", repr(row["zeroed"]), "yes or no")
    if row.get("loop_ohm") and not _is_ohm(row["loop_ohm"]):
        yield Problem("loop_ohm", repr(row["loop_ohm"]), "ohms")
    may_say = meters[meter].WORDS if meter in meters else (OVER_RANGE,)
    if _parsed(row.get("value", ""), may_say) is None:
        either = ", ".join(map(repr, may_say))
        expected = f"a number, LOW .. HIGH, or a word of its display: {either}"
        yield Problem("value", repr(row.get("value", "")), expected)


def _hookups(profile: MeterFile) -> tuple[str, ...]:
    return BAD_GOOD if profile.HOOKUP == "bad-good" else ACROSS


def _is_hookup(across: str, known: tuple[str, ...]) -> bool:
    """Whether a meter may be clipped so; also on a neighbour, of which nothing is weighed."""
    return across in known or any(map(leg_of, re.split("[-+= ]", across)))


def _parsed(text: str, words: tuple[str, ...] = ()) -> tuple[float | None, str] | None:
    """The value and what was shown; None if it is neither a number nor one of some words."""
    text = text.strip()
    if text.lower() in words:
        return None, text
    try:
        low, dots, high = text.partition("..")
        ends = [float(low), float(high)] if dots else [float(text)]
    except ValueError:
        return None
    if not all(abs(end) < 1e15 for end in ends):
        return None
    return sum(ends) / len(ends), text


def _is_ohm(text: str) -> bool:
    parsed = _parsed(text)
    return parsed is not None and parsed[0] is not None and parsed[0] > 0


def _look(row: Mapping[str, str], profile: MeterFile) -> Look:
    value, shown = cast(tuple[float | None, str], _parsed(row["value"], profile.WORDS))
    setting = Setting(
        meter=row["meter"],
        across=row["across"],
        state=cast(PairState, row.get("state") or "idle"),
        lead=cast(Any, row.get("lead") or "clear"),
        zeroed=_YES[row.get("zeroed", "").lower()],
    )
    look = look_shown(setting, shown, value)
    return replace(look, loop_ohm=float(row["loop_ohm"])) if row.get("loop_ohm") else look
