"""Readings as files: both forms, all faults at once, and what the expert makes of them."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from farend_sim.drill.expert.readings_file import parse_looks
from farend_sim.errors import BadFileError
from farend_sim.files import find_meter, load_meter
from farend_sim.shipped import names
from tui.commands import main

METERS = {name: load_meter(name, Path()) for name in ("volts", "ohms", "bridge")}
COLUMNS = """\
# read on a wet morning
meter,across,value,state
volts,tip-sheath,0.0,idle
ohms,tip-ring,over,
ohms,tip-ring,210.0 .. 216.0,strap
bridge,bad=tip good=ring,110.5,strap
"""


def test_columns_and_lines_say_the_same() -> None:
    """The same readings in columns and as JSON Lines, other lines of a logbook passed over."""
    rows = [
        {"meter": "volts", "across": "tip-sheath", "value": 0.0},
        {"note": "a wet morning"},
        {"meter": "ohms", "across": "tip-ring", "value": None, "shown": "over"},
        {"meter": "ohms", "across": "tip-ring", "shown": "210.0 .. 216.0", "state": "strap"},
        {"meter": "bridge", "across": "bad=tip good=ring", "shown": "110.5", "state": "strap"},
    ]
    lines = "\n".join(map(json.dumps, rows))

    columns = parse_looks(COLUMNS, "a.csv", METERS)
    assert columns == parse_looks(lines, "a.jsonl", METERS)
    assert [one.value for one in columns] == [0.0, None, 213.0, 110.5]
    assert columns[2].spread == 3.0


def test_all_faults_at_once() -> None:
    """Each bad cell is told with its line, what was found and what was expected."""
    bad = (
        "meter,across,value,state\n"
        "omhs,tip-ring,4,idle\n"
        "ohms,tip-tip,4,idle\n"
        "ohms,tip-ring,four,idle\n"
        "ohms,tip-ring,4,stra\n"
        "ohms,tip-ring\n"
    )
    with pytest.raises(BadFileError) as caught:
        parse_looks(bad, "bad.csv", METERS)

    text = str(caught.value)
    assert [f"bad.csv:{line}:" in text for line in (2, 3, 4, 5, 6)] == [True] * 5
    assert "did you mean 'ohms'?" in text
    assert "did you mean 'strap'?" in text


@pytest.mark.parametrize(
    "text", ["", "meter,across\n", "meter,across,value\n", "{not json}\n", '{"note": "x"}\n']
)
def test_nothing_to_weigh_is_told(text: str) -> None:
    """No columns, no readings, or lines that are no JSON."""
    with pytest.raises(BadFileError):
        parse_looks(text, "a", METERS)


def test_a_second_opinion(tmp_path: Path) -> None:
    """`locate --readings` ranks, places, and says that nothing more need be read."""
    file = tmp_path / "readings.csv"
    file.write_text(
        "meter,across,value,state\n"
        "volts,tip-ring,0,idle\n"
        "volts,tip-sheath,0,idle\n"
        "ohms,tip-ring,over,idle\n"
        "ohms,tip-sheath,40110,idle\n"
        "ohms,ring-sheath,over,idle\n"
        "ohms,tip-ring,468.0,strap\n"
        "bridge,bad=tip good=ring,110.5,strap\n",
        encoding="utf-8",
    )
    words = ["locate", "--readings", str(file), "good-pair", "--json"]
    result = CliRunner().invoke(main, words, catch_exceptions=False)
    told = json.loads(result.stdout)
    first = told["ranking"][0]

    assert (result.exit_code, told["pinned"], told["next"]) == (0, True, None)
    assert (first["kind"], first["leg"]) == ("leak", ["tip", "sheath"])
    assert first["low_m"] < 1325 < first["high_m"]


def test_a_record_that_is_short(tmp_path: Path) -> None:
    """Who may doubt a record's metres is told the place, and what the record lacks."""
    record, file = tmp_path / "record.toml", tmp_path / "readings.csv"
    sections = [(24, 1500.0), (26, 600.0)]
    record.write_text(
        "format = 1\n[plant]\ntemperature_c = 10.0\n"
        + "".join(
            f"[[plant.section]]\ngauge_awg = {gauge}\nlength_m = {m}\n" for gauge, m in sections
        ),
        encoding="utf-8",
    )
    # of the pair as it is: 500 m more of the second section, 24 kilohm from ring at 1100 m
    file.write_text(
        "meter,across,value,state\n"
        "ohms,tip-ring,over,idle\n"
        "ohms,tip-sheath,over,idle\n"
        "ohms,ring-sheath,24110,idle\n"
        "ohms,tip-ring,534.1,strap\n"
        "ohms,tip-sheath,274.8,tip-ground\n"
        "ohms,ring-sheath,270.8,ring-ground\n"
        "bridge,bad=ring good=tip,89.6,strap\n",
        encoding="utf-8",
    )
    words = ["locate", "--readings", str(file), str(record), "--gauge-percent", "0.5"]
    believing = CliRunner().invoke(main, words)
    doubting = CliRunner().invoke(main, [*words, "--wrong-length", "50"])

    assert "leak ring-sheath" in doubting.stdout
    assert "section 2 is some 500 m longer than the record says" in doubting.stdout
    assert (believing.exit_code, doubting.exit_code) == (1, 0)


def test_words_alone_tell_nothing(tmp_path: Path) -> None:
    """Foreign voltage on a bridge's display and no number anywhere: told, and nothing is ranked."""
    file = tmp_path / "logbook.jsonl"
    rows = [
        {"meter": "bridge", "across": "bad=tip good=ring", "shown": "foreign voltage"},
        {"meter": "ac-volts", "across": "tip-ring", "shown": "0.869"},
    ]
    file.write_text("\n".join(map(json.dumps, rows)), encoding="utf-8")
    result = CliRunner().invoke(main, ["locate", "--readings", str(file), "good-pair"])

    assert (result.exit_code, result.stdout) == (2, "")
    assert f"{file}: found nothing to weigh" in result.stderr


def test_readings_of_a_drill_that_tell_nothing(tmp_path: Path) -> None:
    """`drill solve` tells so too, and which readings it passed over."""
    file = tmp_path / "readings.csv"
    file.write_text("meter,across,value\nac-volts,tip-ring,0.8\nvolts,tip-ring,over\n", "utf-8")
    words = ["drill", "solve", "foundry-yard-2", "--readings", str(file)]
    result = CliRunner().invoke(main, words, catch_exceptions=False)

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("1 readings passed over")
    assert f"{file}: found nothing to weigh" in result.stderr


def test_readings_on_another_pair_are_passed_over(tmp_path: Path) -> None:
    """A logbook has readings on neighbours' legs too: they are no mistake, and are not weighed."""
    rows = [
        {"meter": "volts", "across": "inn.tip-sheath", "shown": "-48.1"},
        {"meter": "bridge", "across": "bad=tip good=inn.tip", "shown": "110.5"},
        {"meter": "ohms", "across": "tip-ring", "shown": "over"},
    ]
    file = tmp_path / "logbook.jsonl"
    file.write_text("\n".join(map(json.dumps, rows)), encoding="utf-8")
    words = ["locate", "--readings", str(file), "good-pair"]
    result = CliRunner().invoke(main, words, catch_exceptions=False)

    assert result.stderr.startswith("2 readings passed over")
    assert "Not pinned down." in result.stdout


def test_bad_readings_are_two(tmp_path: Path) -> None:
    """A file with a fault: exit 2, and nothing on standard output."""
    file = tmp_path / "readings.csv"
    file.write_text("meter,across,value\nohms,tip-ring,x\n", encoding="utf-8")
    result = CliRunner().invoke(main, ["locate", "--readings", str(file), "good-pair"])

    assert (result.exit_code, result.stdout) == (2, "")
    assert f"{file}:2: value: found 'x'" in result.stderr


def test_each_kinds_own_words() -> None:
    """Whatever a display may say in a number's place is read; another kind's word is a mistake."""
    meters = {name: find_meter(name) for name in names("meters")}
    said = {word for of in meters.values() for word in of.WORDS}
    for name, of in meters.items():
        row = {"meter": name, "across": of.usual("tip-ring")}
        lines = "\n".join(json.dumps({**row, "shown": word}) for word in of.WORDS)
        assert [None] * len(of.WORDS) == [one.value for one in parse_looks(lines, "a", meters)]
        for word in said - set(of.WORDS):
            with pytest.raises(BadFileError, match="a word of its display: 'over'"):
                parse_looks(json.dumps({**row, "shown": word}), "a", meters)

    assert said >= {"over", "no loop", "too leaky", "foreign voltage", "off the scale"}
