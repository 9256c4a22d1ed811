"""`farend-sim hold`: what it prints, its contract's keys, its pages, and how it refuses."""

import contextlib
import json
from collections.abc import Callable
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from farend_sim.shipped import folder
from farend_sim.unit.table import FUNCTIONS
from tui.commands import main

TIMES = "seconds,finished\n31,1\n44,1\n28,1\n60,0\n39,1\n52,1\n35,1\n60,0\n41,1\n30,1\n"
FLEET = """format = 1
title = "<b>Mine</b> & yours"
[source]
share = "mine"
readings_per_day = "mine"
battery_h = "mine"
[[meter]]
name = "<script>alert(1)</script>"
median_s = 30.0
log_sd = 0.5
share = 1.0
"""


ASKED = {
    "fit": ("fit", "times.csv"),
    "design": ("design", "--times", "times.csv"),
    "law": ("design", "--lognormal", "30", "0.5", "--command-s", "10"),
    "fleet": ("fleet", "./fleet.toml"),
    "job": ("job", "both-legs"),
}


def farend_sim(*words: str) -> Result:
    return CliRunner().invoke(main, ["hold", *words], catch_exceptions=False)


Answered = Callable[[str], tuple[dict[str, Any], str]]


@pytest.fixture(scope="module")
def answered(tmp_path_factory: pytest.TempPathFactory) -> Answered:
    """Each question asked once: the one JSON object of its answer, and its page."""
    folder = tmp_path_factory.mktemp("hold")
    (folder / "times.csv").write_text(TIMES, encoding="utf-8")
    (folder / "fleet.toml").write_text(FLEET, encoding="utf-8")

    @cache
    def ask(what: str) -> tuple[dict[str, Any], str]:
        page = folder / f"{what}.html"
        with contextlib.chdir(folder):
            result = farend_sim(*ASKED[what], "--json", "--html", str(page))
        assert result.exit_code == 0
        (line,) = result.stdout.splitlines()
        return json.loads(line, parse_constant=pytest.fail), page.read_text(encoding="utf-8")

    return ask


def test_fit_has_the_contracts_keys(answered: Answered) -> None:
    """distribution, median_s, log_sd, n and censored, with the rest."""
    answer, _ = answered("fit")

    assert (answer["n"], answer["censored"]) == (10, 2)
    assert answer["distribution"] in ("lognormal", "weibull", "gamma")
    assert 35 < answer["median_s"] < 50
    assert 0.1 < answer["log_sd"] < 0.6
    assert any("from so few" in each for each in answer["warnings"])


def test_design_has_the_contracts_keys(answered: Answered) -> None:
    """The best hold for (c + h) / F(h), its cost and its chance, and the nearest of the scheme."""
    answer, _ = answered("law")

    assert answer["hold_s"] == pytest.approx(42.876, abs=0.01)
    assert answer["expected_s"] == pytest.approx(69.349446, abs=1e-5)
    assert answer["finish_probability"] == pytest.approx(0.7625, abs=1e-3)
    assert (answer["model"], answer["scheme_hold_s"]) == ("deaf", 43.0)
    assert answer["uncertainty"] is None


def test_the_line_says_which_model_applies(answered: Answered) -> None:
    """On a good pair: deaf in strap, both grounds, off the pair, and in its own tone."""
    functions = answered("law")[0]["functions"]

    hears = {each["function"] for each in functions if each["hears"]}
    assert hears == {"tip-ground", "ring-ground", "open"}
    assert {each["function"] for each in functions} == set(FUNCTIONS)
    assert all(each["hears"] or each["why"] for each in functions)


def test_timings_give_a_band(answered: Answered) -> None:
    """From ten timings the best hold is known to a band, and the upper limits lie far above."""
    answer, _ = answered("design")

    low, high = answer["uncertainty"]["hold_s"]
    assert low < answer["hold_s"] < high
    upper = {each["share"]: each["limit_s"] for each in answer["uncertainty"]["upper"]}
    assert upper[0.95] > answer["law"]["q95_s"]


@pytest.mark.parametrize("meter", ["ohms", "bridge-slow-timed"])
def test_a_shipped_meter_has_a_hold(meter: str) -> None:
    """One played on the bench, one known by its times alone: designed for, and drawn."""
    text = farend_sim("design", "--meter", meter).stdout

    assert "hold that wastes least" in text
    assert "What a hold costs" in text


def test_the_shipped_timings_are_there_to_try() -> None:
    """The README's own example is a file that fits: six jobs of three tries, three cut off."""
    file = folder("durations") / "six-tickets.csv"

    assert "18 tries, 3 cut off" in farend_sim("fit", str(file)).stdout


class Tags(HTMLParser):
    """The tags of a page, and whatever would be fetched from elsewhere."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.fetched: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.fetched += [f"{name}={value}" for name, value in attrs if name in ("src", "href")]


@pytest.mark.parametrize("what", ASKED)
def test_pages_need_nothing_and_escape_all(what: str, answered: Answered) -> None:
    """Each answer's page has plots, fetches nothing, and no text of a file becomes a tag."""
    tags = Tags()
    tags.feed(answered(what)[1])

    assert tags.fetched == []
    assert tags.tags.count("svg") >= 1
    assert not {"script", "b", "link", "img"} & set(tags.tags)


BAD = {
    "no-meter": (["design"], "found nothing to design for"),
    "two": (["design", "--meter", "ohms", "--lognormal", "30", "0.5"], "--meter and --lognormal"),
    "meter": (["design", "--meter", "ohmz"], "expected a file or one of ac-volts, bridge"),
    "median": (["design", "--lognormal", "-3", "0.5"], "expected seconds from"),
    "nan": (["design", "--lognormal", "nan", "0.5"], "expected seconds from"),
    "between": (["design", "--lognormal", "30", "0.5", "--between", "0.6"], "no more than LOGSD"),
    "plant": (["design", "--meter", "ohms", "--plant", "god-pair"], "did you mean 'good-pair'?"),
    "scheme": (["design", "--meter", "ohms", "--scheme", "offest"], "did you mean 'offset'?"),
    "deaf plant": (["design", "--meter", "ohms", "--plant", "nothing-back"], "hears no command"),
    "across": (["design", "--meter", "ohms", "--across", "tip-tip"], "expected one of tip-ring"),
    "no times": (["fit", "nowhere.csv"], "nowhere.csv: found no such file"),
    "fleet": (["fleet", "referense"], "did you mean 'reference'?"),
    "job": (["job", "both-leg"], "did you mean 'both-legs'?"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_told_plainly(case: str) -> None:
    """Exit 2, nothing on standard output, the words that help, no traceback."""
    words, told = BAD[case]
    result = farend_sim(*words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert told in result.stderr
    assert "Traceback" not in result.stderr


def test_all_faults_of_a_fleet_are_told_with_their_lines(tmp_path: Path) -> None:
    """A misspelt key, a share of nought, half of a law and a missing source."""
    path = tmp_path / "fleet.toml"
    path.write_text(FLEET.replace("share = 1.0", "share = 0.0\nmedian = 3"), encoding="utf-8")
    first = farend_sim("fleet", str(path)).stderr
    path.write_text(FLEET.replace("log_sd = 0.5\n", "").replace('share = "mine"\n', ""), "utf-8")
    second = farend_sim("fleet", str(path)).stderr

    assert ":11: meter[0].share: found 0, expected more than 0" in first
    assert ":12: meter[0].median: found an unknown key" in first
    assert "meter[0].log_sd: found nothing, expected both median_s and log_sd" in second
    assert "source.share: found no source" in second
