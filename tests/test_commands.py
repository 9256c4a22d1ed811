"""The commands: what they print, and with which exit code."""

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from farend_sim.said import quantity
from farend_sim.unit.table import STATES
from tui.commands import line as line_command
from tui.commands import main
from tui.commands.answers import plain

ROOT = Path(__file__).parent.parent
BAD = Path(__file__).parent / "data" / "bad"
CABLE_KEYS = [
    "ohm_per_km",
    "mutual_nf_per_km",
    "leg_sheath_nf_per_km",
    "leg_leg_nf_per_km",
    "mh_per_km",
    "sheath_ohm_per_km",
    "insulation_megohm_km",
    "lay_percent",
    "unbalance_percent",
    "unbalance_pf_per_km",
]


def farend_sim(*words: str, typed: str | bytes | None = None) -> Result:
    """Run a command as a person does; an exception of ours would come through."""
    return CliRunner().invoke(main, words, input=typed, catch_exceptions=False)


def one_object(result: Result) -> dict[str, Any]:
    """The one JSON object that a command printed."""
    assert (result.exit_code, result.stderr) == (0, "")
    (line,) = result.stdout.splitlines()
    answer: dict[str, Any] = json.loads(line, parse_constant=pytest.fail)
    return answer


def test_help_lists_what_works() -> None:
    """No command is promised that is not there."""
    listed = farend_sim("--help").stdout.partition("Commands:")[2].split("\n")

    names = [text.split()[0] for text in listed if text.strip()]
    expected = [
        "bench",
        "cable",
        "drill",
        "hold",
        "line",
        "locate",
        "run",
        "scheme",
        "serve",
        "wav",
    ]
    assert names == expected


@pytest.mark.parametrize("gauge", ["19", "26", "0.4mm", "0.9mm"])
def test_cable_prints_every_constant_with_its_source(gauge: str) -> None:
    """The constants are flat, and each has a source."""
    answer = one_object(farend_sim("cable", gauge, "--temperature", "40", "--json"))

    assert set(CABLE_KEYS) <= set(answer)
    assert all(answer["source"][key] for key in CABLE_KEYS)


def test_cable_prints_for_people() -> None:
    """Without --json each constant has a line."""
    text = farend_sim("cable", "24").stdout

    assert all(key in text for key in CABLE_KEYS)


@pytest.mark.parametrize(
    "words",
    [
        ["cable", "25"],
        ["cable", "24", "--temperature", "nan"],
        ["cable"],
        ["line", "good-pair", "--state", "stra"],
        ["line", "good-pair", "--at", "0"],
        ["line", "god-pair"],
        ["line", str(BAD / "unknown-key.toml")],
        ["run", "good-pair", "--steps", str(BAD / "verb.steps")],
        ["run", "good-pair", "--steps", "nowhere.steps"],
        ["shoot"],
        ["run", ""],
        [
            "drill",
            "seal",
            str(BAD.parents[1] / "drill/authors/sluice-9.toml"),
            "--into",
            "/dev/null/in",
        ],
        ["drill", "new", "--level", "1", "--out", "/dev/null/out"],
        ["hold", "design", "--lognormal", "30", "0.4", "--html", "/dev/null/out"],
        ["wav", "render", "1", "/dev/null/out"],
    ],
)
def test_bad_input_is_two_and_no_answer(words: list[str]) -> None:
    """Bad input: exit 2, nothing on standard output, a message and no traceback."""
    result = farend_sim(*words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr
    assert "Traceback" not in result.stderr


def test_states_are_the_reports() -> None:
    """The states that `line` offers are those that the report knows."""
    assert STATES == line_command.STATES


@pytest.mark.parametrize("state", STATES)
def test_line_answers_in_every_state(state: str) -> None:
    """One object with the contract's keys, and a table for people."""
    answer = one_object(farend_sim("line", "good-pair", "--state", state, "--json"))

    assert list(answer) == ["state", "dc", "ac", "receiver", "unit", "beyond"]
    assert state == answer["state"]
    assert 8 == len(answer["ac"]) == len(answer["receiver"]["level_dbm"])
    assert state in farend_sim("line", "good-pair", "--state", state).stdout


def test_line_takes_any_frequencies() -> None:
    """Each --at is one row, in the order given."""
    answer = one_object(farend_sim("line", "good-pair", "--at", "1e3", "--at", "300", "--json"))

    assert [row["hz"] for row in answer["ac"]] == [1000.0, 300.0]


def test_run_prints_a_line_a_step() -> None:
    """JSON Lines: the steps as typed, in order, one object each; one that is refused among them."""
    typed = "read\n# no step\nlisten 2\nmeter ohms tip-ring\nread\n"

    result = farend_sim("run", "good-pair", "--steps", "-", "--json", typed=typed)

    rows = [json.loads(line, parse_constant=pytest.fail) for line in result.stdout.splitlines()]
    steps = ["read", "listen 2", "meter ohms tip-ring", "read"]
    assert (0, steps, "") == (result.exit_code, [row["step"] for row in rows], result.stderr)
    assert ["refused" in row for row in rows] == [True, False, False, False]
    assert all(row.keys() >= {"start_s", "t_s", "step", "heard"} for row in rows)
    assert rows[-1].keys() >= {"meter", "across", "value", "unit", "over", "shown"}
    assert not rows[-1].keys() & {"settled", "far"}


def test_bare_run_plays_the_first_scenario() -> None:
    """A transcript for people, with the caution on standard error."""
    bare, named = farend_sim("run"), farend_sim("run", "good-pair")

    assert (bare.exit_code, bare.stdout) == (0, named.stdout)
    assert "468.0 ohm" in bare.stdout
    assert "no reading here proves a real pair safe" in bare.stderr


def test_show_unit_adds_the_far_end() -> None:
    """With --show-unit every row tells what only the far end knows."""
    result = farend_sim("run", "good-pair", "--steps", "-", "--json", "--show-unit", typed="read\n")

    (row,) = map(json.loads, result.stdout.splitlines())
    assert {"state", "closed", "deadline_s"} == set(row["far"])


def test_steps_that_are_not_utf_8_are_told_plainly() -> None:
    """Standard input may hold anything."""
    result = farend_sim("run", "good-pair", "--steps", "-", typed=b"note \xff\n")

    assert result.exit_code == 2
    assert "standard input:1: found bytes that are not UTF-8" in result.stderr


def test_a_reader_that_leaves_is_no_traceback() -> None:
    """Output into a pipe that closes ends quietly."""
    code = "from tui.commands import main; main()"
    with subprocess.Popen(
        [sys.executable, "-c", code, "run", "good-pair", "--json"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""


def test_json_has_nine_digits_and_no_infinity() -> None:
    """What is infinite or no number is null; the rest is rounded alike everywhere."""
    value = {"a": [math.pi, math.inf, math.nan, 1, True, None, "x"]}

    assert plain(value) == {"a": [3.14159265, None, None, 1, True, None, "x"]}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (202.34, "202.3 ohm"),
        (84_210.0, "84.21 kohm"),
        (999.97, "1 kohm"),
        (-0.05, "-50 mohm"),
        (0.0, "0 ohm"),
        (1.6e9, "1.6 Gohm"),
        (None, "infinite"),
    ],
)
def test_numbers_are_read_with_their_unit(value: float | None, text: str) -> None:
    """Four digits, a prefix and the unit."""
    assert text == quantity(value, "ohm")


def test_a_full_disk_is_told_plainly() -> None:
    """What cannot be printed: exit 2, which is no verdict, and no traceback."""
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-c", "from tui.commands import main; main()", "drill", "list"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )

    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1)
    assert "standard output: found no space left" in done.stderr
