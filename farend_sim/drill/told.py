"""A drill as a trainee is told of it, in plain text: ticket, plant record, meters, cautions.

Law: it is made from what is in clear in a sealed file, and from nothing else.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from farend_sim.cautions import CAUTIONS, FIRST
from farend_sim.drill.drill import Drill
from farend_sim.drill.files import clear
from farend_sim.said import gauge, length

Table = dict[str, Any]


def ticket_text(drill: Drill) -> str:
    """The work ticket, the meters at hand and the time."""
    told = clear(drill)
    lesson = told["drill"]
    return "\n".join(
        [
            told["title"],
            *([told["brief"].strip()] if "brief" in told else []),
            "",
            f"Ticket: {lesson['ticket'].strip()}",
            f"Meters at hand: {', '.join(told['meters'])}",
            f"Time: {lesson.get('budget_s', drill.lesson.budget_s) / 60:.0f} minutes at most",
        ]
    )


def cautions_text() -> str:
    """The cautions, a line each."""
    return "\n".join([FIRST, *(f"- {each}" for each in CAUTIONS)])


def record_text(drill: Drill, feet: bool = False) -> str:
    """The plant record, near to far, and the record office's note."""
    told = clear(drill)
    lines = list(_record(told["record"], feet))
    if block := told.get("block"):
        lines.append(f"  block of {block['posts']} posts: the pair is on post {block['post']}")
    if note := told["drill"].get("record", "").strip():
        lines += ["", f"Note: {note}"]
    return "\n".join(lines)


def past_the_end(drill: Drill, row: Mapping[str, Any], feet: bool = False) -> str:
    """A word on an answer whose place is past the record's end: a slip of the finger, mostly."""
    end_m = drill.situation.scenario.recorded.length_m
    at_m = (row.get("answered") or {}).get("at_m")
    if at_m is None or at_m <= end_m:
        return ""
    return f"That place is past the record's end, at {length(end_m, feet)}. Metres, or feet?"


def _record(record: Table, feet: bool) -> Iterator[str]:
    celsius = record.get("temperature_c", 20.0)
    at_m = 0.0
    yield f"Plant record, near to far, at {celsius:g} C:"
    for index, section in enumerate(record["section"], start=1):
        name = section.get("name", f"section {index}")
        yield f"  from {length(at_m, feet):>8}  {name}: {_stretch(section, feet)}"
        at_m += section["length_m"]
    yield f"  to   {length(at_m, feet):>8}  far end"
    for tap in record.get("tap", ()):
        place = length(tap["at_m"], feet)
        yield f"  tap at {place}  {tap.get('name', '')}: {_stretch(tap, feet)}"
    for access in record.get("access", ()):
        place = length(access["at_m"], feet)
        yield f"  {access.get('kind', 'joint')} {access['name']} at {place}"


def _stretch(stretch: Table, feet: bool) -> str:
    made = gauge(stretch.get("gauge_awg"), stretch.get("diameter_mm"))
    own = stretch.get("temperature_c")
    warm = "" if own is None else f", {own:g} C"
    return f"{made}, {length(stretch['length_m'], feet)}{warm}"
