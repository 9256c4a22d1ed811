"""`farend-sim hold`: how long a hold must be, from how long a reading really takes."""

from pathlib import Path
from typing import Any

import click

from farend_sim.hold_lab.on_pair.question import DIG_HOURS, PATIENCE, Question
from farend_sim.unit.table import FUNCTIONS
from tui.commands.answers import Number, show_answer
from tui.commands.options import as_json, as_page


def _shown(command: Any) -> Any:
    """The options with which every answer can be had."""
    return as_page(as_json(command))


@click.group(short_help="Find how long a hold must be.")
def hold() -> None:
    """Find how long a hold must be: fit timings, design a hold, a default or a whole job's holds.

    A command costs c seconds. Where the unit is deaf during a hold h, the expected time until the
    next command is (c + h) / F(h), F being the share of readings that fit. Where it hears, a
    release ends the hold, whose length is then a safety stop.
    """


@hold.command(short_help="Fit a law to stopwatch timings.")
@click.argument("times")
@_shown
def fit(times: str, as_json: bool, page: Path | None) -> None:
    """Fit TIMES, a CSV with the columns seconds,finished and optionally job.

    finished is 0 where the hold ran out first. With a job column the spread between jobs and the
    spread from try to try are told apart, where the timings can.
    """
    from farend_sim.hold_lab.timings.fit import fit_report
    from farend_sim.hold_lab.timings.fit_answer import fit_answer
    from farend_sim.hold_lab.timings.times_file import load_times

    show_answer(fit_answer(fit_report(load_times(times)), Path(times).name), as_json, page)


@hold.command(short_help="Design the hold that wastes least.")
@click.option("--meter", metavar="NAME", help="A shipped meter, or a meter's file.")
@click.option("--times", metavar="CSV", help="Stopwatch timings, as for fit.")
@click.option(
    "--lognormal",
    type=(Number(0.1, 36000, "seconds"), Number(0.001, 3, "a spread")),
    metavar="MEDIAN LOGSD",
    help="The median in seconds, and the spread of the logarithm.",
)
@click.option(
    "--between",
    "between_log_sd",
    type=Number(0, 3, "a spread"),
    default=0.0,
    metavar="SD",
    help="With --lognormal: how much of LOGSD lies between jobs.",
)
@click.option("--command-s", type=Number(0.01, 3600, "seconds"), help="What a command costs, in s.")
@click.option("--scheme", default="", metavar="F", help="A scheme, in place of the plant's.")
@click.option(
    "--plant",
    help="A scenario.  [default: good-pair; for a bridge, cut-off-balance: it seeks a leak]",
)
@click.option("--function", type=click.Choice(FUNCTIONS), default="strap", show_default=True)
@click.option(
    "--across", metavar="A-B", help="Where a meter is clipped; a bridge: 'bad=tip good=ring'."
)
@click.option(
    "--patience",
    type=click.IntRange(1, 10_000),
    default=PATIENCE,
    show_default=True,
    help="Misses in a row before a long hold is dialled.",
)
@click.option(
    "--dig-hours",
    type=Number(0, 1000, "hours"),
    default=DIG_HOURS,
    show_default=True,
    help="What a wrong place to dig costs.",
)
@_shown
def design(as_json: bool, page: Path | None, **asked: Any) -> None:
    """Design the hold for a meter, for timings, or for a law.

    Whether the unit is deaf in each function comes from the line on the stated plant.
    """
    from farend_sim.hold_lab.design.asked import asked_for
    from farend_sim.hold_lab.design.design_answer import design_answer

    question = Question(**asked)
    if len(question.given) != 1:
        found = " and ".join(f"--{name}" for name in question.given) or "nothing to design for"
        raise click.UsageError(f"found {found}, expected one of --meter, --times, --lognormal")
    between, spread = question.between_log_sd, (question.lognormal or (0.0, 0.0))[1]
    if between > spread:
        raise click.UsageError("--between goes with --lognormal and is no more than LOGSD")
    show_answer(design_answer(asked_for(question)), as_json, page)


@hold.command(short_help="Find one default for many meters.")
@click.argument("fleet")
@_shown
def fleet(fleet: str, as_json: bool, page: Path | None) -> None:
    """Find the default for FLEET, a file or the name of a shipped one.

    The cheapest on average, the one least regretted, a round one, and what a second, dialled hold
    would save.
    """
    from farend_sim.hold_lab.fleet.fleet import fleet_report
    from farend_sim.hold_lab.fleet.fleet_answer import fleet_answer
    from farend_sim.hold_lab.fleet.fleet_file import load_fleet
    from farend_sim.hold_lab.on_pair.meter_in_use import situation_of

    loaded = load_fleet(fleet)
    report = fleet_report(loaded, situation_of(loaded.scenario, loaded.scheme))
    show_answer(fleet_answer(report), as_json, page)


@hold.command(short_help="Find the holds of a whole job.")
@click.argument("job")
@_shown
def job(job: str, as_json: bool, page: Path | None) -> None:
    """Find the holds for JOB, a file or a shipped name: readings with their functions."""
    from farend_sim.hold_lab.job.job import job_report
    from farend_sim.hold_lab.job.job_answer import job_answer
    from farend_sim.hold_lab.job.job_file import load_job
    from farend_sim.hold_lab.on_pair.meter_in_use import situation_of

    loaded = load_job(job)
    report = job_report(loaded, situation_of(loaded.scenario, loaded.scheme))
    show_answer(job_answer(report), as_json, page)
