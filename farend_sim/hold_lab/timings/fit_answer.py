"""What `hold fit` says: the fit in figures, tables and plots."""

from typing import Any

import numpy as np

from farend_sim.answers.answer import Answer, Line, Plot, Table, points, records, table_of
from farend_sim.hold_lab.timings.durations import Gamma, Law, Lognormal, Weibull
from farend_sim.hold_lab.timings.fit import FitReport
from farend_sim.hold_lab.timings.survival import steps
from farend_sim.shares import wilson


def law_figures(law: Law) -> dict[str, float | str]:
    """A law by its numbers."""
    figures: dict[str, float | str] = {
        "distribution": law.name,
        "median_s": law.quantile(0.5),
        "q95_s": law.quantile(0.95),
    }
    if isinstance(law, Lognormal):
        figures |= {
            "log_sd": law.total_log_sd,
            "within_log_sd": law.log_sd,
            "between_log_sd": law.job_log_sd,
            "fixed_s": law.shift_s,
        }
    elif isinstance(law, Weibull | Gamma):
        figures |= {"scale_s": law.scale_s, "shape": law.shape}
    return figures


def fit_answer(report: FitReport, name: str) -> Answer:
    """Put a fit into figures, tables and plots."""
    figures = _figures(report)
    return Answer(
        title=f"Timings of {name}: {report.tries.n} tries, {report.tries.censored} cut off",
        figures=figures,
        tables=tuple(_tables(report, figures)),
        plots=(_plot(report),),
        warnings=report.warnings,
        notes=(
            "AIC: less is better; lognormal unless another is better by 2. Gap: the widest between "
            "law and curve. Spreads are of the natural logarithm.",
        ),
    )


def _figures(report: FitReport) -> dict[str, Any]:
    spread, law = report.spread, report.spread.law
    finished = report.tries.n - report.tries.censored
    return {
        "distribution": report.best.law.name,
        "median_s": report.lognormal.median_s,
        "log_sd": report.lognormal.log_sd,
        "n": report.tries.n,
        "censored": report.tries.censored,
        "finished_share": finished / report.tries.n,
        "finished_interval": list(wilson(finished / report.tries.n, report.tries.n)),
        "median_interval_s": list(report.median_s),
        "fits": [
            {**law_figures(each.law), "log_likelihood": each.log_likelihood, "aic": each.aic}
            for each in report.fits
        ],
        "gap": report.gap,
        "p_value": report.p_value,
        "jobs": spread.jobs,
        "parted": None
        if law is None
        else {
            "median_s": law.median_s,
            "within_log_sd": law.log_sd,
            "between_log_sd": law.job_log_sd,
            "between_low": spread.between_low,
            "between_high": spread.between_high,
            "p_value": spread.p_value,
        },
        "upper": [{"share": share, "limit_s": at} for share, at in report.upper_s.items()],
        "survival": records(
            t_s=report.curve.t_s,
            share=report.curve.share,
            low=report.curve.low,
            high=report.curve.high,
        ),
        "warnings": list(report.warnings),
    }


_FIT = {
    "distribution": "law",
    "median_s": "median s",
    "q95_s": "95 % done s",
    "aic": "AIC",
    "best": "best",
}
"""What figures are called in the table."""


def _tables(report: FitReport, figures: dict[str, Any]) -> list[Table]:
    best = report.best.law.name
    fits = ({**each, "best": each["distribution"] == best} for each in figures["fits"])
    low, high = report.median_s
    known: list[tuple[str | float | None, ...]] = [
        ("lognormal median", report.lognormal.median_s, "s"),
        ("  95 % interval from", low, "s"),
        ("  to", high, "s"),
        ("lognormal spread", report.lognormal.log_sd, ""),
        (f"gap of the {best}", report.gap, ""),
        ("  chance of a wider one", report.p_value, ""),
    ]
    sure_low, sure_high = figures["finished_interval"]
    known += [
        ("share that finished", figures["finished_share"], ""),
        ("  95 % interval from", sure_low, ""),
        ("  to", sure_high, ""),
    ]
    if (law := report.spread.law) is not None:
        known += [
            ("spread within a job", law.log_sd, ""),
            ("spread between jobs", law.job_log_sd, ""),
            ("  95 % interval from", report.spread.between_low, ""),
            ("  to", report.spread.between_high, ""),
        ]
    upper = Table(
        "How long a hold must be, with 95 % confidence",
        ("readings done", "within s", "plainly read off s"),
        tuple(
            (f"{share:.0%}", at, report.law.quantile(share)) for share, at in report.upper_s.items()
        ),
    )
    return [
        table_of("Laws fitted", fits, _FIT),
        Table("What is known", ("what", "value", "unit"), tuple(known)),
        upper,
    ]


def _plot(report: FitReport) -> Plot:
    curve = report.curve
    at = np.linspace(0.0, float(report.tries.seconds.max()) * 1.05, 160)
    ends = steps(curve)
    band = Line("its 95 % band", points(curve.t_s, curve.high), points(curve.t_s, curve.low))
    return Plot(
        "Readings not yet in hand",
        "seconds",
        "share",
        (
            Line("as timed", tuple(ends)),
            Line(report.best.law.name, points(at, 1 - report.best.law.cdf(at))),
            band,
        ),
    )
