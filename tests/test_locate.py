"""`farend-sim locate`: what each method prints, and with which exit code."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from tests.bench.play import shipped
from tests.locating import RECORD, locate
from tui.commands import main
from tui.commands.locate import METHODS

ANSWERS = {
    "loop": ["loop", "--ohm", "200"],
    "bridge by a slide": ["bridge", "--fraction", "0.2"],
    "bridge by two arms": ["bridge", "--arms", "4", "1"],
    "bridge by a dial": ["bridge", "--dial-ohm", "150", "--loop-ohm", "418", "--strap-ohm", "0.1"],
    "bridge by ohms": ["bridge", "--fraction", "0.2", "--loop-ohm", "418", "--by-ohms"],
    "bridge with a good pair": [
        "bridge",
        "--fraction",
        ".2",
        "--loop-ohm",
        "430",
        "--good-ohm",
        "220",
    ],
    "open": ["open", "--nf", "80", "--test-hz", "25", "--unit-nf", "10"],
    "open leg": ["open", "--nf", "80", "--across", "leg"],
    "open from both ends": ["both-ends", "--near-nf", "60", "--far-nf", "62"],
    "short from both ends": ["both-ends", "--near-ohm", "600", "--far-ohm", "500"],
    "legs": ["legs", "--tip-ring", "418", "--tip-ground", "215", "--ring-ground", "215"],
    "shunt": ["shunt", "--idle-ohm", "3k", "--strapped-ohm", "380", "--good-ohm", "418"],
}


@pytest.fixture
def record(tmp_path: Path) -> str:
    path = tmp_path / "record.toml"
    path.write_text(RECORD, "utf-8")
    return str(path)


def answer(record: str, method: str, *words: str) -> dict[str, Any]:
    """The one JSON object that a method printed."""
    result = locate(record, method, *words, "--json")
    assert (result.exit_code, result.stderr) == (0, "")
    (line,) = result.stdout.splitlines()
    found: dict[str, Any] = json.loads(line, parse_constant=pytest.fail)
    return found


@pytest.mark.parametrize("words", ANSWERS.values(), ids=ANSWERS)
def test_a_place_is_a_band_on_the_route(record: str, words: list[str]) -> None:
    """One object: metres from low to high, on the route, with what moves them."""
    found = answer(record, *words)

    assert 0 <= found["low_m"] <= found["at_m"] <= found["high_m"] <= found["length_m"]
    assert found["low_m"] < found["high_m"]
    assert (None, words[0]) == (found["why"], found["method"])
    assert max(found["moved_by_m"].values()) > 0


@pytest.mark.parametrize("words", ANSWERS.values(), ids=ANSWERS)
def test_feet_are_the_metres(record: str, words: list[str]) -> None:
    """With --feet the same place is there in feet besides, and the text has no metres."""
    found = answer(record, *words, "--feet")
    text = locate(record, *words, "--feet").stdout

    for key in ("at", "low", "high"):
        assert pytest.approx(found[f"{key}_m"], abs=1e-5) == found[f"{key}_ft"] * 0.3048
    assert f"{found['at_ft']:.0f} ft from the near end" in text
    assert " m " not in text.replace(" 0.6 mm ", "")


def test_the_picture_shows_route_place_and_band(record: str) -> None:
    """A line of text: joints and taps where they are, the band below, the place in it."""
    text = locate(record, "open", "--nf", "80").stdout.split("\n\n")[1].splitlines()

    assert text == [
        "                24 AWG, 1219 m              26 AWG, 700 m     0.6 mm",
        "near |=========================T========+===================+========| far",
        "                                          [--^----]",
        "near end at 0, far end at 2219 m; + joints, T taps",
        "recorded temperature 10 C",
        "joints at 1219 m, 1919 m",
        "tap T at 900 m, 150 m long",
    ]


def test_a_temperature_may_be_given(record: str) -> None:
    """A warmer cable reads the same ohms nearer: by its copper."""
    cold = answer(record, "loop", "--ohm", "100")["at_m"]
    warm = answer(record, "loop", "--ohm", "100", "--temperature", "35")["at_m"]

    assert pytest.approx((1 - 0.00393 * 10) / (1 + 0.00393 * 15)) == warm / cold


def test_tolerances_may_be_given(record: str) -> None:
    """A record that is known better leaves a narrower band."""
    wide = answer(record, "loop", "--ohm", "100")
    narrow = answer(
        record, "loop", "--ohm", "100", "--gauge-percent", "0", "--temperature-off", "0"
    )

    assert narrow["at_m"] == wide["at_m"]
    assert narrow["high_m"] - narrow["low_m"] < 0.1 * (wide["high_m"] - wide["low_m"])
    assert (narrow["tolerance"]) == {
        "accuracy_percent": 0.2,
        "accuracy_ohm": 0.2,
        "gauge_percent": 0.0,
        "temperature_c": 0.0,
    }


def test_a_scenarios_plant_is_a_record() -> None:
    """The reading that the first scenario explains in the README is its whole loop."""
    found = answer("good-pair", "loop", "--ohm", "468.0")

    assert (found["length_m"], found["at_m"]) == (2460.0, 2460.0)


def test_legs_name_the_one_with_the_joint(record: str) -> None:
    """150 ohm in the ring, which no reading from one end can place."""
    words = ("legs", "--tip-ring", "568", "--tip-ground", "216", "--ring-ground", "366")
    found = answer(record, *words)

    assert ("ring", pytest.approx(-150.0)) == (found["high_leg"], found["difference_ohm"])
    assert "ring has more than its mate: 150.0 ohm" in locate(record, *words).stdout


def test_sections_close_in(record: str) -> None:
    """Looks leave one stretch, and say which joint to open next; over range is null."""
    words = ["--look", "0", "far", "40k", "--look", "4000ft", "near", "over"]
    found = answer(record, "sections", *words)
    text = locate(record, "sections", *words).stdout

    assert found["stretches"] == [{"from_m": 1219.2, "to_m": 2219.2, "holds": True}]
    assert pytest.approx(1919.2) == found["next_m"]
    assert [each["ohm"] for each in found["looks"]] == [40e3, None]
    assert "trouble between 1219 m and 2219 m" in text
    assert "#" * 28 in text


def test_help_lists_every_method() -> None:
    """Each method has a line, and a page of its own that says whence its defaults are."""
    text = CliRunner().invoke(main, ["locate", "--help"]).stdout

    assert all(f"\n  {method} " in text for method in METHODS)
    for method in METHODS:
        page = CliRunner().invoke(main, ["locate", method, "--help"], catch_exceptions=False)
        assert (page.exit_code, "RECORD" in page.stdout) == (0, True)
    page = CliRunner().invoke(main, ["locate", "loop", "--help"])
    assert "7 CFR 1755.403(d)(6)" in " ".join(page.stdout.split())


def test_sections_are_looked_at_by_name() -> None:
    """Looks really taken at named access points bring it to the joint that holds the trouble."""
    looks = []
    for row in shipped("opened-both-ways"):
        if "looking" in row and "shown" in row:
            looks += ["--look", row["where"], row["looking"], row["shown"]]

    before = answer("opened-both-ways", "sections", *looks[:16])
    after = answer("opened-both-ways", "sections", *looks)

    assert before["next_m"] == 1650
    assert after["both_ways_m"] == [1650]
    assert [(part["from_m"], part["to_m"]) for part in after["stretches"]] == [
        (1250, 1650),
        (1650, 2400),
    ]


def test_the_record_is_asked_and_not_the_plant() -> None:
    """What the record does not know is not in a place: the short lies 200 m nearer by it."""
    found = answer("forgotten-length", "loop", "--ohm", "231.0", "--contact-ohm", "0.4")

    assert found["length_m"] == 2200
    assert found["at_m"] == pytest.approx(1350, abs=3)
