"""What `hold job` says: a job's holds, its time, and the spread of it."""

from typing import Any

import numpy as np

from farend_sim.answers.answer import Answer, Line, Plot, Table, points, table_of
from farend_sim.hold_lab.job.job import JobReport
from farend_sim.hold_lab.job.planned import Planned

NOTE = (
    "Expected times are exact; the spread is simulated with one pair and one person throughout a "
    "job. Readings in a row with one function share a hold where that is cheaper."
)
_DIALLED = (
    "Each hold that is dialled bears {:.1f} s for the dialling, the scheme's defaults none: where "
    "it gains less than that, they are cheaper."
)


def job_answer(report: JobReport) -> Answer:
    """Put a job into figures, tables and a plot."""
    figures = _figures(report)
    return Answer(
        title=f"A job: {report.job.title}",
        figures=figures,
        tables=(table_of("Its holds", figures["holds"], _HOLD), _totals(report)),
        plots=(_plot(report),),
        notes=(NOTE, _DIALLED.format(report.dial_s)),
    )


def _figures(report: JobReport) -> dict[str, Any]:
    simulated = report.simulated
    return {
        "expected_s": report.expected_s,
        "default_expected_s": report.default_expected_s,
        "one_hold_s": report.one_hold_s,
        "one_hold_expected_s": report.one_expected_s,
        "dials": report.dials,
        "dial_s": report.dial_s,
        "holds": [_hold_figures(each) for each in report.planned],
        "simulated": {
            "rounds": simulated.rounds,
            "mean_s": simulated.mean_s,
            "error_s": simulated.error_s,
            **{f"q{share * 100:.0f}_s": at for share, at in simulated.quantile_s.items()},
        },
    }


def _hold_figures(of: Planned) -> dict[str, Any]:
    return {
        "function": of.held.function,
        "readings": list(of.held.names),
        "hears": of.held.terms.hears,
        "hold_s": of.hold_s,
        "expected_s": of.expected_s,
        "default_hold_s": of.held.span.default_s,
        "default_expected_s": of.default_expected_s,
    }


_HOLD = {
    "function": "function",
    "readings": "readings",
    "hears": "unit",
    "hold_s": "hold s",
    "expected_s": "costs s",
    "default_expected_s": "default costs s",
}
"""What figures are called in the table."""


def _totals(report: JobReport) -> Table:
    simulated = report.simulated
    return Table(
        "The whole job",
        ("with", "seconds"),
        (
            (f"each hold at its best, {report.dials} dialled", report.expected_s),
            (f"one hold of {report.one_hold_s:g} s, dialled once", report.one_expected_s),
            ("the scheme's defaults", report.default_expected_s),
            (f"simulated, {simulated.rounds} jobs", simulated.mean_s),
            *((f"  {share:.0%} are done by", at) for share, at in simulated.quantile_s.items()),
        ),
    )


def _plot(report: JobReport) -> Plot:
    """What each length would cost, were it the only hold of the job."""
    low, high = report.one_hold_s / 4, report.one_hold_s * 3
    at = np.linspace(low, high, 48)
    costs = [sum(each.held.expected_s(float(h)) for each in report.planned) for h in at]
    marks = (("best single hold", report.one_hold_s),)
    lines = (Line("the whole job", points(at, costs)),)
    most = 4 * report.one_expected_s
    return Plot("One hold for the whole job", "hold in seconds", "seconds", lines, marks, most)
