"""What many drills come to, as tables and plots: one page, one text."""

from collections.abc import Iterator
from typing import Any

from farend_sim.answers.answer import Answer, Line, Plot, Table

_UNEVEN_P = 0.01
"""Ranks or kinds less likely than this are told of. Common practice, no source."""


def answer(told: dict[str, Any]) -> Answer:
    """Put a report into the shape that pages and texts are made from."""
    return Answer(
        title=f"{told['drills']} drills of level {told['level']}",
        figures=told,
        tables=tuple(_tables(told)),
        plots=tuple(_plots(told)),
        warnings=tuple(_warnings(told)),
        notes=(
            "Every drill that is kept was solved by the expert with the meters at hand.",
            "Bands and shares count every pair that was drawn and solved, kept or not.",
            "Refused are pairs whose readings, it was said, no known trouble explains: all are "
            "known here, so that they are at most 1 in 100.",
            "Meters here are off by their percent and round; the counts that their accuracy allows "
            "besides are for readings from elsewhere.",
        ),
    )


def _tables(told: dict[str, Any]) -> Iterator[Table]:
    counts = ("drawn", "guessable", "not_pinned", "refused", "pinned_and_wrong", "looks", "off_m")
    rows = tuple((key.replace("_", " "), told[key]) for key in counts)
    yield Table("What was drawn", ("what", "count, mean or median"), rows)
    kinds = told["kinds"]
    yield Table(
        f"What goes wrong: as stated with a chance of {kinds['p']:.2g}",
        ("kind", "stated, %", "came, %"),
        tuple(
            (k["name"], 100 * k["stated"], 100 * k["came"] / told["drills"]) for k in kinds["each"]
        ),
    )
    yield Table(
        "How often a place was inside its band",
        ("the band says, %", "it held, %", "from", "to"),
        tuple(
            (100 * b["says"], 100 * b["held"], 100 * b["low"], 100 * b["high"])
            for b in told["bands"]
        ),
    )
    yield Table(
        "How often the likeliest answer was right",
        ("the expert says, %", "it was, %", "of"),
        tuple((100 * s["says"], 100 * s["right"], float(s["count"])) for s in told["shares"]),
    )


def _plots(told: dict[str, Any]) -> Iterator[Plot]:
    if not told["bands"]:
        return
    ends = ((0.0, 0.0), (100.0, 100.0))
    held = tuple((100 * b["says"], 100 * b["held"]) for b in told["bands"])
    high = tuple((100 * b["says"], 100 * b["high"]) for b in told["bands"])
    low = tuple((100 * b["says"], 100 * b["low"]) for b in told["bands"])
    yield Plot(
        "Bands as they say and as they held",
        "the band says, %",
        "it held, %",
        (Line("honest", ends), Line("held", held), Line("95 % interval", high, low)),
    )


def _warnings(told: dict[str, Any]) -> Iterator[str]:
    if told["kinds"]["p"] < _UNEVEN_P:
        yield f"Kinds do not come as stated: a chance of {told['kinds']['p']:.2g}."
    if told["ranks_p"] is not None and told["ranks_p"] < _UNEVEN_P:
        yield f"True places do not lie evenly in the posterior: a chance of {told['ranks_p']:.2g}."
