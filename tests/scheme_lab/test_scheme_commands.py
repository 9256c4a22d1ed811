"""`farend-sim scheme`: what its sub-commands print, and with which exit code."""

import csv
import io
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from farend_sim import shipped
from farend_sim.errors import BadFileError
from farend_sim.files import find_scheme
from tui.commands import main

BAD = Path(__file__).parents[1] / "data" / "bad_schemes"


def scheme(*words: str) -> Result:
    return CliRunner().invoke(main, ["scheme", *words], catch_exceptions=False)


@pytest.mark.parametrize("name", shipped.names("schemes"))
def test_every_shipped_scheme_has_a_card(name: str) -> None:
    """Title, knock and each command's keys; narrow enough to be printed."""
    card = scheme("show", name)
    of = find_scheme(name)

    assert card.exit_code == 0
    assert card.stdout.startswith(of.title)
    assert all(command.code in card.stdout for command in of.command)
    assert scheme("export", name, "--as", "card").stdout == card.stdout


def test_check_says_nothing_of_a_good_scheme() -> None:
    """Exit 0, one object, and the numbers that the claim rests on."""
    result = scheme("check", str(BAD / "none.toml"), "--json")
    answer = json.loads(result.stdout)

    assert result.exit_code == 0
    assert (answer["good"], answer["findings"], answer["slips"]["harmful"]) == (True, [], 0)
    assert {row["slip"] for row in answer["slips"]["matrix"]} == {
        "wrong",
        "missing",
        "doubled",
        "swapped",
        "extra",
    }
    assert (
        sum(
            sum(v for k, v in row.items() if k not in ("meant", "slip"))
            for row in answer["slips"]["matrix"]
        )
        == answer["slips"]["played"]
    )


@pytest.mark.parametrize(
    "words", [("scheme", "check", str(BAD / "none.toml")), ("line", "good-pair", "--state", "tone")]
)
def test_hearing_beside_its_own_tone_is_by_level_alone(words: tuple[str, ...]) -> None:
    """Who says that the unit hears in tone says too what was left out, and who knows better."""
    said = CliRunner().invoke(main, words, catch_exceptions=False).stdout
    assert "by level alone; its own tone may drown keys, see hold design" in said


def test_check_tells_findings_with_keys() -> None:
    """Exit 1; kind, severity, keys with times and what to do, for people and for programs."""
    file = str(BAD / "slip.toml")
    finding, _ = json.loads(scheme("check", file, "--json").stdout)["findings"]
    text = scheme("check", file)

    assert text.exit_code == 1
    assert (finding["kind"], finding["severity"], finding["played"]) == ("slip", "error", True)
    assert [each["what"] for each in finding["keys"]] == list("#*2719*")
    assert finding["keys"][0]["t_s"] < finding["keys"][-1]["t_s"]
    assert finding["do"] in text.stdout
    assert "#*2719*" in text.stdout


@pytest.mark.parametrize(
    "words",
    [
        ["show", "nothing-like-it"],
        ["check", "nowhere/at-all.toml"],
        ["check", "offset", "--on", "nowhere"],
        ["export", "offset"],
        ["export", "offset", "--as", "poem"],
        ["show", str(BAD / "slip.toml") + "x"],
        ["sing"],
    ],
)
def test_bad_input_is_two(words: list[str]) -> None:
    """Nothing on standard output, a message, no traceback."""
    result = scheme(*words)

    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr


def test_a_file_that_makes_no_sense_is_told_with_its_lines(tmp_path: Path) -> None:
    """All faults at once, in the examined file as in a loaded one."""
    text = (BAD / "none.toml").read_text().replace('reply = "status"', 'reply = "statu"')
    file = tmp_path / "mine.toml"
    file.write_text(text.replace('code = "18"', 'code = "1x"'))

    result = scheme("check", str(file))

    assert result.exit_code == 2
    assert "command[0].code: found '1x' with 'x'" in result.stderr
    assert "did you mean 'status'?" in result.stderr


def test_a_dangerous_scheme_is_examined_and_not_loaded() -> None:
    """The bench refuses it; show and export write it with a warning."""
    file = str(BAD / "calls.toml")
    exported = scheme("export", file, "--as", "csv")

    with pytest.raises(BadFileError, match="911"):
        find_scheme(file)
    assert exported.exit_code == 0
    assert "dangerous" in exported.stderr


def test_the_table_is_one_line_a_command_and_state() -> None:
    """Every command in attention and in each hold, with keys that no spreadsheet mistakes."""
    rows = list(csv.DictReader(io.StringIO(scheme("export", "offset", "--as", "csv").stdout)))

    assert len(rows) == 10 * 8
    assert {row["keys"] for row in rows if row["does"] == "off-pair"} == {"0 7 *"}
    assert {row["taken"] for row in rows} == {"yes"}


def test_the_picture_names_states_and_keys() -> None:
    """Each state, and a command's keys on the arrow that it takes."""
    picture = scheme("export", "offset", "--as", "mermaid").stdout

    assert picture.startswith("stateDiagram-v2\n")
    assert "attentive --> strap: 18#42;" in picture
    assert "idle --> attentive: knock #35;#42;27" in picture
