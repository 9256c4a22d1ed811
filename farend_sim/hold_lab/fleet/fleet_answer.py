"""What `hold fleet` says: one default for many meters, and the price of each."""

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from farend_sim.answers.answer import Answer, Line, Plot, Table, points, records, table_of
from farend_sim.hold_lab.fleet.fleet import Default, FleetReport, Member
from farend_sim.hold_lab.timings.fit_answer import law_figures

NOTE = (
    "Regret: what a default costs a meter's user over that meter's own best hold. Users that dial "
    "take no part in the default. Round: the roundest hold that costs at most 2 % more than the "
    "cheapest. Out of service: the pair, while the unit holds it."
)


def fleet_answer(report: FleetReport) -> Answer:
    """Put a fleet's defaults into figures, tables and plots."""
    figures = _figures(report)
    return Answer(
        title=f"One default for a fleet: {report.fleet.title}",
        figures=figures,
        tables=tuple(_tables(figures)),
        plots=(_cost_plot(report), _regret_plot(report)),
        notes=(NOTE,),
    )


def _figures(report: FleetReport) -> dict[str, Any]:
    return {
        "hold_s": report.cheapest.hold_s,
        "expected_s": report.cheapest.expected_s,
        "regret_hold_s": report.least_regret.hold_s,
        "worst_regret_s": report.least_regret.worst_regret_s,
        "round_hold_s": report.rounded.hold_s,
        "round_expected_s": report.rounded.expected_s,
        "dialled": {
            "hold_s": report.with_dialled_s,
            "expected_s": report.with_dialled,
            "saved_s": report.cheapest.expected_s - report.with_dialled,
            "who": list(report.dialling),
            "dial_s": report.dial_s,
        },
        "defaults": [{"default": name, **asdict(each)} for name, each in _defaults(report)],
        "meters": [_member_figures(each) for each in report.members],
        "curve": records(hold_s=report.curve_s, expected_s=report.curve),
    }


def _defaults(report: FleetReport) -> Iterator[tuple[str, Default]]:
    yield "cheapest", report.cheapest
    yield "least regretted", report.least_regret
    yield "round", report.rounded
    for each in report.compared:
        yield f"{each.hold_s:g} s", each


def _member_figures(of: Member) -> dict[str, Any]:
    return {
        "name": of.name,
        "function": of.function,
        "share": of.share,
        "hears": of.terms.hears,
        "dials": of.dials,
        "best_hold_s": of.best_s,
        "best_expected_s": of.best,
        "law": law_figures(of.law),
    }


_DEFAULT = {
    "default": "default",
    "hold_s": "hold s",
    "expected_s": "costs s",
    "worst_regret_s": "worst regret s",
    "worst": "whose",
    "misses_per_day": "misses a day",
    "wasted_min_per_day": "wasted min a day",
    "out_of_service_h_per_day": "out of service h a day",
    "battery_days": "battery days",
}
_METER = {
    "name": "meter",
    "function": "function",
    "hears": "unit",
    "share": "share",
    "best_hold_s": "hold s",
    "best_expected_s": "costs s",
    "dials": "dials",
}
"""What figures are called in tables."""


def _tables(figures: dict[str, Any]) -> Iterator[Table]:
    yield table_of("Defaults", figures["defaults"], _DEFAULT)
    yield table_of("Whose own best is what", figures["meters"], _METER)
    dialled = figures["dialled"]
    yield Table(
        "With a second, dialled hold",
        ("what", "value", ""),
        (
            ("the default is then best at", dialled["hold_s"], "s"),
            ("a reading costs", dialled["expected_s"], "s"),
            ("which saves", dialled["saved_s"], "s"),
            ("dialling costs", dialled["dial_s"], "s"),
            ("who dials", ", ".join(dialled["who"]) or "nobody", ""),
        ),
    )


def _cost_plot(report: FleetReport) -> Plot:
    marks = (("cheapest", report.cheapest.hold_s), ("round", report.rounded.hold_s))
    lines = (Line("all who use it", points(report.curve_s, report.curve)),)
    most = 4 * report.cheapest.expected_s
    return Plot(
        "What a default costs", "default in seconds", "seconds a reading", lines, marks, most
    )


def _regret_plot(report: FleetReport) -> Plot:
    using = [each for each in report.members if not each.dials]
    lines = tuple(
        Line(f"{each.name}, {each.function}", points(report.curve_s, row))
        for each, row in zip(using, report.regrets, strict=True)
    )
    marks = (("least regretted", report.least_regret.hold_s),)
    return Plot(
        "Regret",
        "default in seconds",
        "seconds a reading",
        lines,
        marks,
        4 * report.least_regret.worst_regret_s,
    )
