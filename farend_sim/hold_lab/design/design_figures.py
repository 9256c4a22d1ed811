"""A designed hold as figures for a program; the keys are the contract of `hold design --json`."""

from dataclasses import asdict
from typing import Any

import numpy as np

from farend_sim.answers.answer import records
from farend_sim.hold_lab.design.believed import believed, wrong
from farend_sim.hold_lab.design.design import Band
from farend_sim.hold_lab.design.designed import ForFunction, Found
from farend_sim.hold_lab.scheme_times import span
from farend_sim.hold_lab.timings.fit_answer import law_figures


def figures_of(found: Found) -> dict[str, Any]:
    own, asked = found.own, found.asked
    choice, at = own.choice, own.choice.price
    scheme = span(asked.situation.scheme, asked.question.function)
    return {
        "hold_s": choice.hold_s,
        "expected_s": float(at.expected_s[0]),
        "finish_probability": float(at.finish[0]),
        "in_hand_s": float(at.in_hand_s[0]),
        "misses_per_reading": float(at.misses[0]),
        "function": asked.question.function,
        "model": "hears" if own.heard.hears else "deaf",
        "why_deaf": own.heard.why,
        "release_share": own.heard.release_share,
        "command_s": own.terms.command_s,
        "release_s": own.terms.release_s,
        "patience": own.terms.patience,
        "scheme_hold_s": choice.scheme_hold_s,
        "scheme_expected_s": choice.scheme_expected_s,
        "scheme_shortest_s": scheme.shortest_s,
        "scheme_longest_s": scheme.longest_s,
        "default_hold_s": own.default_s,
        "default_expected_s": own.default_expected_s,
        "near_best_s": list(choice.near_s),
        "law": law_figures(asked.law),
        "functions": [_function_figures(each) for each in found.functions],
        "curve": records(
            hold_s=found.at_s,
            expected_s=found.prices.expected_s,
            in_hand_s=found.prices.in_hand_s,
            finish_probability=found.prices.finish,
        ),
        "sensitivity": [asdict(each) for each in found.changed],
        "uncertainty": _band_figures(found.band),
        "spoiled": _spoiled_figures(found),
        "warnings": list(found.warnings),
    }


def _function_figures(of: ForFunction) -> dict[str, Any]:
    return {
        "function": of.heard.function,
        "hears": of.heard.hears,
        "why": of.heard.why,
        "release_share": of.heard.release_share,
        "hold_s": of.choice.hold_s,
        "expected_s": float(of.choice.price.expected_s[0]),
        "scheme_hold_s": of.choice.scheme_hold_s,
        "default_hold_s": of.default_s,
        "default_expected_s": of.default_expected_s,
    }


def _band_figures(of: Band | None) -> dict[str, Any] | None:
    return (
        None
        if of is None
        else {
            "rounds": of.rounds,
            "hold_s": list(of.hold_s),
            "expected_s": list(of.expected_s),
            "upper": [{"share": share, "limit_s": at} for share, at in of.upper_s.items()],
        }
    )


def _spoiled_figures(found: Found) -> dict[str, Any]:
    windows, law, own = found.asked.windows, found.asked.law, found.own
    at = np.array([own.choice.hold_s, own.choice.scheme_hold_s, own.default_s])
    return {
        "window_s": windows.width_s,
        "off_m": windows.off_m,
        "dig_s": found.asked.question.dig_s,
        "at": records(
            hold_s=at,
            believed_probability=believed(law, windows, at),
            wrong_jobs=wrong(law, windows, at),
        ),
        "priced": asdict(found.once),
        "two_that_agree": asdict(found.twice),
    }
