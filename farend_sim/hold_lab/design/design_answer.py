"""What `hold design` says: the whole answer to how long one hold must be."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from farend_sim.answers.answer import Answer, Cell, Line, Plot, Table, points, table_of
from farend_sim.hold_lab.design.asked import Asked
from farend_sim.hold_lab.design.design import Band
from farend_sim.hold_lab.design.design_figures import figures_of
from farend_sim.hold_lab.design.designed import Found, designed

MODEL = (
    "Model: a command costs c; deaf, the expected time until the next command is (c + h) / F(h) "
    "for a hold h, where F is the share of readings that fit. Where the unit hears, a release ends "
    "the hold: a try costs c + X + r, and the hold is a safety stop that 99 % fit in. Over jobs "
    "that differ it is the mean over jobs, with a hold dialled in earnest after so many misses in "
    "a row (--patience). Whether the unit hears comes from the line on the stated plant."
)


def design_answer(asked: Asked) -> Answer:
    """Design a hold and put all there is to say about it."""
    found = designed(asked)
    figures = figures_of(found)
    return Answer(
        title=f"A hold for {asked.title}, {asked.question.function}",
        figures=figures,
        tables=tuple(_tables(found, figures)),
        plots=(_cost_plot(found), _done_plot(found)),
        warnings=found.warnings,
        notes=(MODEL,),
    )


_FUNCTION = {
    "function": "function",
    "hears": "unit",
    "hold_s": "hold s",
    "expected_s": "costs s",
    "default_expected_s": "default costs s",
}
_CHANGED = {
    "changed": "changed",
    "hold_s": "best hold s",
    "expected_s": "costs s",
    "kept_expected_s": "this hold costs s",
}
"""What figures are called in tables."""


def _tables(found: Found, figures: dict[str, Any]) -> Iterator[Table]:
    own, asked = found.own, found.asked
    at, choice = own.choice.price, own.choice
    low, high = choice.near_s
    heard = "the unit hears, a release ends it" if own.heard.hears else f"deaf: {own.heard.why}"
    yield Table(
        "The hold",
        ("what", "value", ""),
        (
            (
                "hold that wastes least" if not own.heard.hears else "safety stop",
                choice.hold_s,
                "s",
            ),
            ("nearest that the scheme has", choice.scheme_hold_s, "s"),
            ("until the next command", float(at.expected_s[0]), "s"),
            ("until the reading is in hand", float(at.in_hand_s[0]), "s"),
            ("readings that fit", float(at.finish[0]), ""),
            ("misses for each reading", float(at.misses[0]), ""),
            ("within 5 % of the least, from", low, "s"),
            ("  to", high, "s"),
            ("a command costs", own.terms.command_s, "s"),
            ("the shipped default", own.default_s, "s"),
            ("  costs", own.default_expected_s, "s"),
            ("in this function", None, heard),
        ),
    )
    by_function = "By function: the line says whether the unit hears"
    yield table_of(by_function, figures["functions"], _FUNCTION)
    yield table_of("If a number was wrong", figures["sensitivity"], _CHANGED)
    if found.band is not None:
        yield _band_table(found.band)
    yield _spoiled_table(figures["spoiled"])
    if asked.windows.moments:
        alike = groupby(asked.windows.moments[::8], lambda each: (each.came, each.shown))
        yield Table(
            "What the display said, by when the reading would have ended",
            ("from s after the hold", "came", "shown"),
            tuple((next(run).ends_after_s, *said) for said, run in alike),
        )


def _band_table(of: Band) -> Table:
    return Table(
        f"How far so few timings leave it open ({of.rounds} draws)",
        ("what", "from s", "to s"),
        (
            ("best hold, 90 %", *of.hold_s),
            ("its cost, 90 %", *of.expected_s),
            *((f"{share:.0%} done, 95 % sure", None, at) for share, at in of.upper_s.items()),
        ),
    )


def _spoiled_table(figures: dict[str, Any]) -> Table:
    off = figures["off_m"]
    names = ("this hold", "the scheme's nearest", "the default")
    rows: list[tuple[Cell, ...]] = [
        (name, each["hold_s"], each["believed_probability"], each["wrong_jobs"], None)
        for name, each in zip(names, figures["at"], strict=True)
    ]
    for name, key in (("a wrong dig priced in", "priced"), ("two that agree", "two_that_agree")):
        of = figures[key]
        rows.append((name, of["hold_s"], None, of["wrong_jobs"], of["expected_s"]))
    wide = f"{figures['window_s']:.3g} s wide"
    place = "" if off is None else f", {off:.0f} m off"
    return Table(
        f"Spoiled, and looks valid (window {wide}{place}; a dig {figures['dig_s']:g} s)",
        ("way", "hold s", "tries", "jobs", "costs s"),
        tuple(rows),
    )


def _cost_plot(found: Found) -> Plot:
    own = found.own
    lines = [
        Line("until the next command", points(found.at_s, found.prices.expected_s)),
        Line("until in hand", points(found.at_s, found.prices.in_hand_s)),
    ]
    marks = (("this hold", own.choice.hold_s), ("default", own.default_s))
    return Plot(
        "What a hold costs",
        "hold in seconds",
        "seconds",
        tuple(lines),
        marks,
        4 * float(own.choice.price.expected_s[0]),
    )


def _done_plot(found: Found) -> Plot:
    return Plot(
        "Readings not yet in hand",
        "seconds",
        "share",
        (Line("law", points(found.at_s, 1 - found.prices.finish)),),
        (("this hold", found.own.choice.hold_s),),
    )
