"""A trial as a person runs it: the same numbers everywhere, honest intervals, a page."""

import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner, Result

from farend_sim.scheme_lab.trial.tally import RATES, report
from tui.commands import main

SMALL = ["--plants", "8", "--commands", "3", "--seed", "5"]


def trial(*words: str) -> Result:
    return CliRunner().invoke(main, ["scheme", "trial", *words], catch_exceptions=False)


def told(*words: str) -> dict[str, Any]:
    result = trial(*words, "--json")
    assert result.exit_code == 0, result.stderr
    answer: dict[str, Any] = json.loads(result.stdout, parse_constant=pytest.fail)
    return answer


def row(number: int, kind: str, **schemes: list[int]) -> dict[str, Any]:
    """A plant's row with outcomes as given: 0 done, 1 refused, 2 lost, 3 other."""
    return {
        "plant": number,
        "class": kind,
        "schemes": {
            name: {
                "outcome": codes,
                "first": [int(code == 0) for code in codes],
                "tries": [1] * len(codes),
                "keys": [7] * len(codes),
                "ms": [2000] * len(codes),
            }
            for name, codes in schemes.items()
        },
    }


def test_one_core_and_several_say_the_same() -> None:
    """To the last digit; another seed says something else."""
    alone = told("offset", *SMALL, "--jobs", "1")

    assert told("offset", *SMALL, "--jobs", "2") == alone
    assert told("offset", *SMALL[:-1], "6", "--jobs", "1") != alone


def test_a_trial_goes_on_where_it_broke_off(tmp_path: Path) -> None:
    """A journal that has lost its last lines gives the same report; another seed is refused."""
    journal = tmp_path / "j.jsonl"
    words = ["offset", *SMALL, "--jobs", "1", "--resume", str(journal)]
    whole = told(*words)
    journal.write_text("".join(journal.read_text().splitlines(keepends=True)[:4]))

    assert told(*words) == whole
    assert trial("offset", *SMALL[:-1], "6", "--resume", str(journal)).exit_code == 2


def test_shares_sum_and_lie_in_their_intervals() -> None:
    """Done, lost, refused and something else are all there is; every class adds up to all."""
    answer = told("offset", "terse", *SMALL, "--jobs", "1")

    for groups in answer["schemes"].values():
        assert sum(groups[g]["commands"] for g in groups if g != "all") == 24
        for of in groups.values():
            assert sum(of[rate]["share"] for rate in RATES if rate != "first") == pytest.approx(1)
            assert of["first"]["share"] <= of["done"]["share"]
            assert all(of[r]["low"] <= of[r]["share"] <= of[r]["high"] for r in RATES)
    assert (
        answer["schemes"]["terse"]["all"]["keys_per_job"]
        < (answer["schemes"]["offset"]["all"]["keys_per_job"])
    )


def test_an_interval_counts_plants_too() -> None:
    """Two plants that are all or nothing say less than the same jobs mixed."""
    mixed = report([row(n, "a", s=[0, 2] * 10) for n in range(10)], ["s"])
    split = report([row(n, "a", s=[0 if n % 2 else 2] * 20) for n in range(10)], ["s"])
    widths = [
        each["schemes"]["s"]["all"]["done"]["high"] - each["schemes"]["s"]["all"]["done"]["low"]
        for each in (mixed, split)
    ]

    assert widths[1] > 3 * widths[0]


def test_intervals_of_few_plants_cover_as_often_as_they_say() -> None:
    """Of plants that differ, four or twelve: nine in ten hold the truth; of one, always."""
    rng = np.random.default_rng(5)
    for plants, least in ((1, 1.0), (4, 0.9), (12, 0.92)):
        held = 0
        for _ in range(150):
            chances = rng.beta(6.0, 2.0, plants)
            done = [[0 if hit else 2 for hit in rng.random(12) < chance] for chance in chances]
            told = report([row(n, "a", s=each) for n, each in enumerate(done)], ["s"])
            rate = told["schemes"]["s"]["all"]["done"]
            held += rate["low"] <= 0.75 <= rate["high"]
        assert held >= least * 150


def test_no_difference_seen_is_not_none_at_all() -> None:
    """What never happened in 400 jobs of both may happen once in two hundred, and not in twenty."""
    rows = [row(n, "a", s=[0] * 10, t=[0] * 10) for n in range(40)]

    pair = next(one for one in report(rows, ["s", "t"])["paired"] if one["rate"] == "other")

    assert pair["difference"] == 0
    assert -0.05 < pair["low"] == -pair["high"] < -0.005 + 1e-3


def test_pairs_see_what_single_rates_hide() -> None:
    """On the same draws a small steady gap stands out."""
    rows = [row(n, "a", s=[0] * 9 + [2 * (n % 2)], t=[0] * 8 + [3, 2 * (n % 2)]) for n in range(20)]

    pairs = {one["rate"]: one for one in report(rows, ["s", "t"])["paired"]}

    assert pairs["other"]["difference"] == pytest.approx(0.1)
    assert pairs["done"]["high"] < 0
    assert pairs["lost"]["difference"] == 0


def test_a_page_needs_nothing_from_elsewhere(tmp_path: Path) -> None:
    """No script, no link, no address; names out of files are escaped."""
    path, odd = tmp_path / "t.html", tmp_path / "<b>x&y.toml"
    source = Path(__file__).parents[2] / "scenarios" / "schemes" / "offset.toml"
    odd.write_text(source.read_text())

    assert trial(str(odd), "terse", *SMALL, "--jobs", "1", "--html", str(path)).exit_code == 0

    text = path.read_text()
    assert not re.search(r"https?:|<script|<link|src=|@import", text)
    assert "<b>" not in text
    assert "&lt;b&gt;x&amp;y" in text
    assert text.count("<svg") == len(RATES)


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["ofset"],
        ["offset", "offset"],
        ["offset", "--plants", "0"],
        ["offset", "--population", "distrct"],
        ["offset", "--plants", "1", "--commands", "1", "--html", "/dev/null/x.html"],
    ],
)
def test_bad_input_is_two(words: list[str]) -> None:
    """Exit 2, a message, nothing on standard output."""
    result = trial(*words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert "Traceback" not in result.stderr


def test_a_bad_population_is_told_with_all_its_faults(tmp_path: Path) -> None:
    """Lines, keys, what was found and what was expected."""
    source = Path(__file__).parents[2] / "scenarios" / "populations" / "district.toml"
    text = source.read_text().replace("length_m = [200, 2500]", "length_m = [2500, 200]")
    text = text.replace(
        'name = "noisy"', 'name = "noisy"\nin_hold_percent = 70\nafter_hold_percent = 40'
    )
    path = tmp_path / "p.toml"
    path.write_text(text.replace("on_ms = [55, 150]", "on_ms = [0, 150]"))

    stderr = trial("offset", "--population", str(path)).stderr

    assert re.search(r"p\.toml:\d+: plants\[0\]\.length_m: found 2500 over 200", stderr)
    told = r"plants\[3\]\.after_hold_percent: found 110 with in_hold_percent, expected 100"
    assert re.search(rf"p\.toml:\d+: {told}", stderr)
    assert re.search(r"p\.toml:\d+: fingers\.on_ms: found \[0, 150\]", stderr)
