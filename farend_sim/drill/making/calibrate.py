"""Many drills of a level: every one proved solvable, kinds as stated, bands as true as they say.

Law: calibration counts every pair that was drawn and solved, kept or not; what counts is where the
true place lies in the expert's own posterior. If that is honest, such ranks are even from 0 to 1.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from farend_sim.drill.expert.opinion import Ranked
from farend_sim.drill.making.curriculum import Curriculum
from farend_sim.drill.making.generate import Try, level_of, new_drill
from farend_sim.shares import wilson

BANDS = (0.5, 0.8, 0.9, 0.95)
"""The shares of the posterior at which bands are held to what they say."""
Row = dict[str, Any]


def drill_row(curriculum: Curriculum, level: int, seed: int) -> Row:
    """Make one drill and tell what came of it."""
    made = new_drill(curriculum, level, seed)
    return {
        "seed": seed,
        "mix": made.mix,
        "looks": len(made.solution.steps),
        "guessable": sum(one.solution is None for one in made.tries),
        "tried": [row for one in made.tries if (row := _tried(one)) is not None],
    }


def _tried(one: Try) -> Row | None:
    """What came of a pair that was drawn and solved."""
    if one.solution is None:
        return None
    best = one.solution.opinion.best
    truth = one.drill.truth
    said = sorted((answer.kind, answer.leg) for answer in best.answers())
    is_right = said == sorted((answer.kind, answer.leg) for answer in truth)
    at_m = truth[0].at_m if "place" in one.drill.lesson.asks and is_right else None
    place = best.place_m
    return {
        "kept": one.why is None,
        "pinned": one.solution.pinned,
        "explained": one.solution.opinion.misfit.explained,
        "share": best.share,
        "right": is_right,
        "rank": None if at_m is None else rank(best, at_m),
        "off_m": None if at_m is None or place is None else place.at - at_m,
    }


def rank(ranked: Ranked, at_m: float) -> float:
    """What share of the expert's posterior lies nearer than a place."""
    return ranked.place.below(at_m) if ranked.place is not None else 0.5


# -- what many come to ---------------------------------------------------------------------------


def report(curriculum: Curriculum, level: int, rows: Sequence[Row]) -> dict[str, Any]:
    """What many drills of a level come to."""
    tried = [one for row in rows for one in row["tried"]]
    ranks = np.array([one["rank"] for one in tried if one["rank"] is not None])
    off_m = np.array([abs(one["off_m"]) for one in tried if one["off_m"] is not None])
    return {
        "level": level,
        "drills": len(rows),
        "drawn": len(tried) + sum(row["guessable"] for row in rows),
        "guessable": sum(row["guessable"] for row in rows),
        "not_pinned": sum(not one["pinned"] for one in tried),
        "refused": sum(not one["explained"] for one in tried),
        "pinned_and_wrong": sum(one["pinned"] and not one["right"] for one in tried),
        "looks": float(np.mean([row["looks"] for row in rows])),
        "kinds": _kinds(curriculum, level, rows),
        "places": int(ranks.size),
        "off_m": float(np.median(off_m)) if off_m.size else None,
        "bands": [_band(band, ranks) for band in BANDS] if ranks.size else [],
        "ranks": np.histogram(ranks, 10, (0.0, 1.0))[0].tolist(),
        "ranks_p": even_p(ranks),
        "shares": _shares(tried),
    }


def _kinds(curriculum: Curriculum, level: int, rows: Sequence[Row]) -> dict[str, Any]:
    """How often each kind came, beside what is stated; the chi-square's chance."""
    from scipy.stats import chisquare

    mixes = level_of(curriculum, level).mix
    stated = np.array([mix.share for mix in mixes]) / sum(mix.share for mix in mixes)
    came = np.array([sum(row["mix"] == mix.name for row in rows) for mix in mixes])
    return {
        "each": [
            {"name": mix.name, "stated": float(share), "came": int(count)}
            for mix, share, count in zip(mixes, stated, came, strict=True)
        ],
        "p": float(chisquare(came, stated * len(rows)).pvalue),
    }


def _band(band: float, ranks: np.ndarray) -> dict[str, float]:
    """How often the truth was in the middle of the posterior, with its 95 % interval."""
    inside = int((np.abs(ranks - 0.5) <= band / 2).sum())
    held = inside / ranks.size
    low, high = wilson(held, ranks.size)
    return {"says": band, "held": held, "low": low, "high": high}


def even_p(ranks: np.ndarray) -> float | None:
    """The chance of ranks at least so uneven, were they even (Kolmogorov and Smirnov)."""
    from scipy.stats import kstest

    return float(kstest(ranks, "uniform").pvalue) if ranks.size else None


def _shares(tried: Sequence[Row]) -> list[dict[str, float]]:
    """How often the likeliest answer was right, by how sure the expert was."""
    edges = (0.0, 0.5, 0.8, 0.95, 1.0 + 1e-9)
    found = []
    for low, high in pairwise(edges):
        inside = [one for one in tried if low <= one["share"] < high]
        if inside:
            found.append(
                {
                    "says": float(np.mean([one["share"] for one in inside])),
                    "right": float(np.mean([one["right"] for one in inside])),
                    "count": len(inside),
                }
            )
    return found
