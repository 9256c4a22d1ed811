"""`farend-sim locate`: readings that no place gives, and bad input, told in plain words."""

import json
from pathlib import Path

import pytest

from tests.locating import RECORD, locate

BAD = Path(__file__).parent / "data" / "bad"


@pytest.fixture
def record(tmp_path: Path) -> str:
    path = tmp_path / "record.toml"
    path.write_text(RECORD, "utf-8")
    return str(path)


@pytest.mark.parametrize(
    "words",
    [
        ["loop", "--ohm", "1200"],
        ["loop", "--ohm", "-50"],
        ["bridge", "--fraction", "0.7"],
        ["shunt", "--idle-ohm", "3k", "--strapped-ohm", "481", "--good-ohm", "450"],
        ["open", "--nf", "995", "--test-hz", "1e3"],
        ["both-ends", "--near-ohm", "100", "--far-ohm", "100"],
        ["legs", "--tip-ring", "100", "--tip-ground", "300", "--ring-ground", "50"],
        [
            "sections",
            "--look",
            "0",
            "far",
            "1k",
            "--look",
            "5ft",
            "near",
            "over",
            "--look",
            "5ft",
            "far",
            "over",
        ],
    ],
)
def test_impossible_readings_are_one_and_told(record: str, words: list[str]) -> None:
    """Exit 1: no place, and why, in words and in JSON; still an answer, so on standard output."""
    result, as_json = locate(record, *words), locate(record, *words, "--json")

    found = json.loads(as_json.stdout)
    assert [(each.exit_code, each.stderr) for each in (result, as_json)] == [(1, ""), (1, "")]
    assert result.stdout.startswith("Not possible: ")
    assert found["why"] in result.stdout
    assert [found[key] for key in ("at_m", "low_m", "high_m")] == [None, None, None]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["loop"], "--ohm"),
        (["loop", "--ohm", "nan"], "expected ohms such as"),
        (["loop", "--ohm", "40x"], "expected ohms such as"),
        (["loop", "--ohm", "1e999"], "expected ohms such as"),
        (["loop", "--ohm", "over"], "expected ohms such as"),
        (["loop", "--ohm", "100", "--temperature", "200"], "C from -60 to 90"),
        (["loop", "--ohm", "100", "--gauge-percent", "-1"], "from 0 to 50"),
        (["bridge"], "found no reading"),
        (["bridge", "--fraction", "1.2"], "from 0 to 1"),
        (["bridge", "--fraction", "0.2", "--dial-ohm", "10"], "found --fraction and --dial-ohm"),
        (["bridge", "--dial-ohm", "10"], "found no --loop-ohm"),
        (["bridge", "--fraction", "0.2", "--by-ohms"], "found no --loop-ohm"),
        (["bridge", "--fraction", "0.2", "--loop-ohm", "0"], "more than 0"),
        (["both-ends", "--near-nf", "10", "--far-ohm", "10"], "no others"),
        (["both-ends", "--near-ohm", "9", "--far-ohm", "9", "--good-ohm", "0"], "more than 0"),
        (["shunt", "--idle-ohm", "9", "--strapped-ohm", "9", "--good-ohm", "0"], "more than 0"),
        (["open", "--nf", "nan"], "expected nF"),
        (["sections"], "--look"),
        (["sections", "--look", "0", "near", "4k"], "sees something of the route"),
        (["sections", "--look", "9000", "near", "4k"], "which ends at 2219.2 m"),
        (["sections", "--look", "2219.2", "far", "4k"], "sees something of the route"),
        (["sections", "--look", "-1", "near", "4k"], "a place such as"),
        (["tea"], "No such command"),
    ],
)
def test_bad_input_is_two(record: str, words: list[str], told: str) -> None:
    """Exit 2, nothing on standard output, plain words."""
    result = locate(record, *words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert told in " ".join(result.stderr.split())
    assert "Traceback" not in result.stderr


def test_a_bad_record_is_told_by_line() -> None:
    """All faults of the record's file, as for a scenario."""
    result = locate(str(BAD / "no-gauge.toml"), "loop", "--ohm", "100")

    assert (result.exit_code, result.stdout) == (2, "")
    assert "no-gauge.toml:5: plant.section[0]: found no gauge" in result.stderr


def test_a_place_that_the_record_does_not_have_is_told() -> None:
    """A misspelt access point is refused with those there are."""
    refused = locate("opened-both-ways", "sections", "--look", "Culvret", "far", "4k")

    assert refused.exit_code == 2
    assert "found 'Culvret', expected a distance or an access point of the record: Mill Lane" in (
        refused.stderr
    )
