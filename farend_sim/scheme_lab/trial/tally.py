"""Rates out of a trial's rows: with intervals, by class of plant, and scheme against scheme.

Law: jobs at one plant resemble one another, so an interval counts plants as well as jobs: Wilson's,
on as many jobs as the spread between plants leaves (Kish's effective sample size). Few plants
tell their spread badly, so Student's law of their number stands for the normal one (E. L. Korn and
B. I. Graubard, 1998, from memory); one plant says nothing of others.
"""

import math
from collections.abc import Iterator, Sequence
from typing import Any

from farend_sim.scheme_lab.trial.trial import OUTCOMES
from farend_sim.shares import SIGMAS, wilson

Row = dict[str, Any]
RATES = ("first", "done", "lost", "refused", "other")
ALL = "all"


def report(rows: Sequence[Row], names: Sequence[str]) -> dict[str, Any]:
    """Return every figure of a trial, ready for JSON."""
    classes = list(dict.fromkeys(row["class"] for row in rows))
    return {
        "plants": len(rows),
        "commands": sum(len(row["schemes"][names[0]]["outcome"]) for row in rows),
        "dialled": sum(sum(row["schemes"][name]["tries"]) for row in rows for name in names),
        "schemes": {
            name: {
                group: _figures([row for row in rows if group in (ALL, row["class"])], name)
                for group in (ALL, *classes)
            }
            for name in names
        },
        "paired": [
            {"scheme": name, "less": names[0], "rate": rate, **_paired(rows, name, names[0], rate)}
            for name in names[1:]
            for rate in RATES
        ],
    }


def _hits(of: Row, rate: str) -> list[int]:
    """For each job, whether the rate counts it."""
    if rate == "first":
        first: list[int] = of["first"]
        return first
    return [int(OUTCOMES[code] == rate) for code in of["outcome"]]


def _figures(rows: Sequence[Row], name: str) -> dict[str, Any]:
    of = [row["schemes"][name] for row in rows]
    jobs = sum(len(each["outcome"]) for each in of)
    return {
        "plants": len(rows),
        "commands": jobs,
        **{rate: _rate([_hits(each, rate) for each in of]) for rate in RATES},
        "keys_per_job": sum(sum(each["keys"]) for each in of) / max(1, jobs),
        "seconds_per_job": sum(sum(each["ms"]) for each in of) / max(1, jobs) / 1000,
        "tries_per_job": sum(sum(each["tries"]) for each in of) / max(1, jobs),
    }


def _rate(by_plant: list[list[int]]) -> dict[str, float]:
    count = sum(map(len, by_plant))
    share = sum(map(sum, by_plant)) / max(1, count)
    doubt = (few(len(by_plant)) / SIGMAS) ** 2
    low, high = wilson(share, count / _inflation(by_plant, share) / doubt)
    return {"share": share, "low": low, "high": high}


def few(plants: int) -> float:
    """Return of how many standard errors a 95 % interval is, that come from so many plants."""
    from scipy.special import stdtrit

    return float(stdtrit(plants - 1, 0.975)) if plants > 1 else math.inf


def _inflation(by_plant: list[list[int]], share: float) -> float:
    """Return by how much the spread between plants widens a variance; 1 or more."""
    plants, count = len(by_plant), sum(map(len, by_plant))
    even = share * (1 - share) / max(1, count)
    if plants < 2 or even <= 0:
        return 1.0
    off = sum((sum(hits) - share * len(hits)) ** 2 for hits in by_plant)
    return max(1.0, off * plants / (plants - 1) / count**2 / even)


def _paired(rows: Sequence[Row], name: str, base: str, rate: str) -> dict[str, float]:
    """Return the difference on the same draws with its 95 % interval, plant by plant.

    Each way of differing is counted half a time more than it was seen, so that none seen is not
    taken for none at all (A. Agresti and Y. Min, 2005, from memory).
    """
    gaps = [
        sum(_hits(row["schemes"][name], rate)) - sum(_hits(row["schemes"][base], rate))
        for row in rows
    ]
    count = sum(len(row["schemes"][base]["outcome"]) for row in rows)
    mean = sum(gaps) / max(1, count)
    jobs = [len(row["schemes"][base]["outcome"]) for row in rows]
    off = sum((gap - mean * n) ** 2 for gap, n in zip(gaps, jobs, strict=True))
    spread = math.sqrt(off * len(rows) / max(1, len(rows) - 1) + 1) / (count + 2)
    off_by = few(len(rows)) * spread
    return {"difference": mean, "low": max(-1.0, mean - off_by), "high": min(1.0, mean + off_by)}


def table(told: dict[str, Any]) -> Iterator[str]:
    """A report as lines for people."""
    head = "".join(f"{rate:>20}" for rate in RATES)
    for name, groups in told["schemes"].items():
        yield from ("", name, f"  {'plants':<14}{'commands':>9}{head}{'keys':>7}{'s':>7}")
        for group, of in groups.items():
            cells = "".join(f"{_cell(of[rate]):>20}" for rate in RATES)
            ends = f"{of['keys_per_job']:>7.1f}{of['seconds_per_job']:>7.1f}"
            yield f"  {group:<14}{of['commands']:>9}{cells}{ends}"
    for pair in told["paired"]:
        low, high = 100 * pair["low"], 100 * pair["high"]
        yield (
            f"{pair['scheme']} less {pair['less']}, {pair['rate']}: "
            f"{100 * pair['difference']:+.2f} % ({low:+.2f} to {high:+.2f})"
        )


def _cell(rate: dict[str, float]) -> str:
    return f"{100 * rate['share']:.1f} ({100 * rate['low']:.1f}-{100 * rate['high']:.1f})"
