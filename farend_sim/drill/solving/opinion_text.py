"""An opinion and the readings behind it, in words and as plain data."""

import math
from collections.abc import Callable, Collection, Iterator
from typing import Any

from farend_sim.bench.answer import NONE, Answer, action_of
from farend_sim.drill.drill import Part
from farend_sim.drill.expert.looks import Look
from farend_sim.drill.expert.mixture import Band
from farend_sim.drill.expert.opinion import Opinion, Ranked
from farend_sim.drill.solving.solve import Solution, Step
from farend_sim.said import length, quantity

LEAST_SHARE = 0.0005
"""What is less likely is not told."""


def ranking(opinion: Opinion) -> list[dict[str, Any]]:
    """Each answer that is worth telling, likeliest first."""
    return [_ranked(one) for one in opinion.ranked if one.share >= LEAST_SHARE]


def _ranked(one: Ranked) -> dict[str, Any]:
    place, ohm = one.place_m, one.ohm
    return {
        "answer": one.label,
        "kind": one.suspect.kind,
        "leg": list(one.suspect.leg),
        "share": one.share,
        **_band("at", "m", place),
        **_band("", "ohm", ohm),
        **({} if one.second_m is None else _second(one)),
    }


def _second(one: Ranked) -> dict[str, float | None]:
    """Of the ring, where both legs leak."""
    both = _band("at", "m", one.second_m) | _band("", "ohm", one.second_ohm)
    return {f"second_{key}": value for key, value in both.items()}


def _band(name: str, unit: str, band: Band | None) -> dict[str, float | None]:
    keys = (f"{name}_{unit}".lstrip("_"), f"low_{unit}", f"high_{unit}")
    values = (band.at, band.low, band.high) if band else (None, None, None)
    return dict(zip(keys, values, strict=True))


def solution_json(solution: Solution) -> dict[str, Any]:
    """All of a solution."""
    return {
        "pinned": solution.pinned,
        "why": solution.why,
        "misfit": misfit_json(solution.opinion),
        "record_off": solution.opinion.off[0] or None,
        "heard": solution.heard,
        "steps": [_step(step) for step in solution.steps],
        "ranking": ranking(solution.opinion),
        "answers": [answer_words(one) for one in solution.opinion.best.answers()],
    }


def _step(step: Step) -> dict[str, Any]:
    setting = step.look.setting
    return {
        "meter": setting.meter,
        "across": setting.across,
        "state": setting.state,
        "lead": setting.lead,
        "value": step.look.value,
        "over": step.look.over,
        "expected_nats": step.nats,
        "best": None if step.opinion is None else step.opinion.best.label,
        "share": None if step.opinion is None else step.opinion.best.share,
    }


def answer_words(answer: Answer, asks: Collection[Part] = ("place", "ohm")) -> str:
    """An answer as a step says it, in what is asked for."""
    if answer.kind == NONE:
        return NONE
    parts = [f"kind={answer.kind}"]
    if answer.leg:
        parts.append(f"leg={'-'.join(answer.leg)}")
    if "place" in asks and answer.at_m is not None:
        parts.append(f"at_m={answer.at_m:.0f}")
        parts += [f"within_m={answer.within_m:.0f}"] if answer.within_m is not None else []
    if "ohm" in asks and answer.ohm is not None:
        parts.append(f"ohm={answer.ohm:.3g}" if math.isfinite(answer.ohm) else "ohm=open")
    if "action" in asks:
        parts.append(f"action={action_of(answer.kind)}")
    return " ".join(parts)


def step_line(number: int, step: Step) -> str:
    """A reading, what it showed, and why it was taken."""
    why = "" if step.nats is None else f"  expected to tell {step.nats:.2f} nat"
    return f"{number:>2}  {step.look.setting.words:<44}{look_text(step.look):>12}{why}"


def look_text(look: Look) -> str:
    """What a display showed."""
    return "over, or no number" if look.value is None else f"{look.value:.5g}"


def misfit_json(opinion: Opinion) -> dict[str, Any]:
    """Whether anything that is known explains the readings."""
    misfit = opinion.misfit
    worst = None if misfit.worst is None else misfit.worst.words
    return {
        "explained": misfit.explained,
        "chance": misfit.chance,
        "worst": worst,
        "off_sd": misfit.off,
    }


def misfit_lines(opinion: Opinion) -> Iterator[str]:
    """That nothing which is known explains the readings; nothing where something does."""
    misfit = opinion.misfit
    if not misfit.explained and misfit.worst is not None:
        yield (
            "No trouble that the expert knows explains the readings: "
            "it is something else, or a reading is wrong."
        )
        yield (
            f"Most at odds with those before it: {misfit.worst.words}, "
            f"by {misfit.off:.1f} standard deviations."
        )


def ranking_lines(opinion: Opinion) -> Iterator[str]:
    """The ranking for people, and whether to believe it."""
    yield from misfit_lines(opinion)
    off, share = opinion.off
    if not opinion.misfit.explained:
        yield "What comes nearest, and is not to be believed:"
    elif off:
        yield f"The record is off ({100 * share:.0f} % likely): {off}."
    told = [one for one in opinion.ranked if one.share >= LEAST_SHARE]
    wide = max((len(one.label) + 2 for one in told), default=0)
    for one in told:
        place, ohm = _span(one.place_m, length), _span(one.ohm, _ohm)
        yield f"{100 * one.share:6.1f} %  {one.label:<{wide}}{place:<30}{ohm}".rstrip()
        if one.second_m is not None:
            place, ohm = _span(one.second_m, length), _span(one.second_ohm, _ohm)
            yield f"{'':10}{'the second one':<{wide}}{place:<30}{ohm}".rstrip()


def _ohm(value: float) -> str:
    return quantity(value, "ohm")


def _span(band: Band | None, say: Callable[[float], str]) -> str:
    return f"{say(band.at)} ({say(band.low)} to {say(band.high)})" if band else ""
