"""From what a person names to what is designed: a meter, timings or a law, on a plant."""

from dataclasses import dataclass
from math import sqrt

from farend_sim.errors import unknown
from farend_sim.hold_lab.on_pair.meter_in_use import HOOKUPS, situation_of
from farend_sim.hold_lab.on_pair.profiles import timed, usual_plant
from farend_sim.hold_lab.on_pair.question import Question
from farend_sim.hold_lab.on_pair.spoiled import Windows, integrating, played
from farend_sim.hold_lab.timings.durations import Law, Lognormal
from farend_sim.hold_lab.timings.fit import FitReport, fit_report
from farend_sim.hold_lab.timings.times_file import load_times
from farend_sim.loading.messages import bad_file
from farend_sim.situation import Situation

INTEGRATES_S = 3.0
"""The last stretch of a reading, of a meter nothing is known of [s]: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question with all that it names."""

    question: Question
    title: str
    law: Law
    windows: Windows
    situation: Situation
    fit: FitReport | None = None
    unread: str = ""
    """What a meter shows in the place of a value, on this plant in this function."""


def asked_for(question: Question) -> Asked:
    """Load what is named; on its usual plant if none is.

    Raises:
        BadFileError: a file has faults, or no hold can begin on the plant.
    """
    across = question.clipped
    if across not in HOOKUPS:
        raise bad_file("--across", [(None, unknown("", across, HOOKUPS))])
    named = question.plant or usual_plant(question.meter)
    situation = situation_of(named, question.scheme)
    fit, windows, unread = None, integrating(INTEGRATES_S), ""
    law: Law
    if question.meter is not None:
        of = timed(question.meter, situation, question.function, across)
        title, law, unread = of.title, of.law, of.unread
        windows = integrating(of.integrates_s)
        if of.profile is not None:
            windows = played(situation, of.profile, question.function, across)
    elif question.times is not None:
        fit = fit_report(load_times(question.times))
        title, law = f"the timings of {question.times}", fit.law
    else:
        assert question.lognormal is not None
        median_s, log_sd = question.lognormal
        title = f"readings of {median_s:g} s, spread {log_sd:g}"
        law = parted(median_s, log_sd, question.between_log_sd)
    return Asked(
        question=question,
        title=title,
        law=law,
        windows=windows,
        situation=situation,
        fit=fit,
        unread=unread,
    )


def parted(median_s: float, log_sd: float, between_log_sd: float) -> Lognormal:
    """A lognormal of which so much of the whole spread lies between jobs."""
    within = sqrt(max(log_sd**2 - between_log_sd**2, 1e-8))
    return Lognormal(median_s, within, between_log_sd)
