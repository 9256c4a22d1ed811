"""`farend-sim drill` as a trainee, a trainer and an author use it."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tests.drill.working import AUTHORS, authored, steps_of
from tui.commands import main

TANNERY = str(AUTHORS / "tannery-19.toml")
STEPS = str(AUTHORS / "tannery-19.steps")


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))


def drill(*words: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(main, ["drill", *words], input=typed, catch_exceptions=False)


def test_list_is_in_teaching_order() -> None:
    """All that ships is listed by level and its order there, with nothing of what it teaches."""
    listed = json.loads(drill("list", "--json").stdout)["drills"]
    orders = [(one["level"], one["order"]) for one in listed]
    assert sorted(orders) == orders
    assert len(orders) >= 15
    assert all("skills" not in one for one in listed)
    assert "foundry-yard-2" in drill("list").stdout


def test_a_file_is_played_and_marked(tmp_path: Path) -> None:
    """An expert's file passes with exit 0, an empty answer does not with exit 1; --json is one."""
    good = drill("do", "tannery-19", "--steps", STEPS, "--json")
    assert good.exit_code == 0
    verdict = json.loads(good.stdout)
    assert (verdict["passed"], verdict["failed_by"]) == (True, [])
    poor = tmp_path / "poor.steps"
    poor.write_text("meter ohms tip-ring\nread\nanswer none\n", encoding="utf-8")
    told = drill("do", "tannery-19", "--steps", str(poor))
    assert told.exit_code == 1
    assert "Not passed" in told.stdout


def test_typed_line_by_line_and_gone_on_with() -> None:
    """Left in the middle, the same command goes on; the whole is marked at the end."""
    steps = steps_of(authored("tannery-19"))
    first = drill("do", "tannery-19", typed="\n".join([*steps[:6], "quit"]))
    assert first.exit_code == 0
    assert "it goes on from" in first.stderr
    assert "not handed in" in drill("do", "tannery-19", typed="ticket\n").stderr
    last = drill("do", "tannery-19", typed="\n".join([*steps[6:], "done"]))
    assert "with 6 steps done" in last.stderr
    assert last.exit_code == 0
    assert "Passed" in last.stdout
    anew = drill("do", "tannery-19", typed="quit\n")
    assert "goes on at" not in anew.stderr


def test_cautions_stand_first() -> None:
    """A sitting opens with the cautions, local codes and licensed practice before all."""
    told = drill("do", "mill-end-4", typed="quit\n")
    assert told.stderr.startswith("Simulator: no reading here proves a real pair safe; local codes")


def test_words_that_are_no_steps() -> None:
    """Ticket, record, worksheet, hints, help: none is a step, and a bad line changes nothing."""
    typed = "ticket\nrecord\nlocate loop --ohm 221.5\nhint\nanswers\nhelp\nred\nlocate loop\nquit\n"
    told = drill("do", "mill-end-4", "--feet", typed=typed).stdout
    for words in (
        "Ticket: Dead since",
        "from  6234 ft  Mill End, lane: 26 AWG",
        "ft from the near end",
        "Lift what is behind",
        "nothing is answered yet",
        "the worksheet, on this drill's record",
        "found 'red', expected one of",
        "Missing option",
    ):
        assert words in told
    assert "1322" not in told


def test_bad_input_is_told() -> None:
    """A drill that is not there, a bad steps file, half of a class: exit 2, no traceback."""
    named = drill("do", "mil-end-4")
    assert (named.exit_code, "did you mean 'mill-end-4'" in named.stderr) == (2, True)
    assert drill("do", "mill-end-4", "--steps", "none.steps").exit_code == 2
    assert drill("do", "mill-end-4", "--class", "c.db").exit_code == 2
    assert drill("do", "mill-end-4", "--class", TANNERY, "--trainee", "Ann").exit_code == 2
    assert drill("verdict", TANNERY).exit_code == 2
    assert drill("class", "show", "none.db").exit_code == 2


def test_a_bad_steps_file_does_nothing(tmp_path: Path) -> None:
    """All its mistakes are told, nothing of it is played, and no attempt is handed in."""
    bad, journal = tmp_path / "bad.steps", tmp_path / "j.jsonl"
    bad.write_text("lift\nred\nanswer kind=shrt\n", encoding="utf-8")
    told = drill("do", "mill-end-4", "--steps", str(bad), "--journal", str(journal))
    assert told.exit_code == 2
    assert "bad.steps:2" in told.stderr
    assert "bad.steps:3" in told.stderr
    assert not any("step" in json.loads(line) for line in journal.read_text().splitlines())


def test_debrief_after_and_not_before(tmp_path: Path) -> None:
    """The lesson has truth, time, expert and cautions, is whole by itself, and comes after."""
    journal, page = tmp_path / "j.jsonl", tmp_path / "page.html"
    drill("do", "tannery-19", "--journal", str(journal), typed="meter volts tip-ring\nread\n")
    early = drill("debrief", str(journal))
    assert (early.exit_code, "expected it handed in" in early.stderr) == (2, True)
    typed = "note <b>&\nanswer kind=short at_m=1450\nanswer none\ndone\n"
    drill("do", "tannery-19", "--journal", str(journal), typed=typed)
    text = drill("debrief", str(journal)).stdout
    for words in ("battery, ring, at 1450 m", "nothing: a good pair", "meter volts tip-ring"):
        assert words in text
    assert "What an expert would have done" in text
    assert "stop, back off, report" in text
    steps = drill("debrief", str(journal), "--feet").stdout.partition("What was done:")[2]
    assert re.findall(r"answered: .* at (\S+ \w+)", steps) == ["4757 ft"]
    assert drill("debrief", str(journal), "--html", str(page)).exit_code == 0
    html = page.read_text(encoding="utf-8")
    assert "note &lt;b&gt;&amp;" in html
    assert html.count("<svg") == 2
    assert not any(word in html for word in ("src=", "href=", "<script", "@import", "url("))


def test_a_class_is_followed(tmp_path: Path) -> None:
    """Attempts are entered as they are made, shown, carried away, marked again, and deleted."""
    book, journal = str(tmp_path / "class.db"), tmp_path / "again.jsonl"
    of = ("--class", book, "--trainee", "Ann Other")
    drill("do", "tannery-19", "--steps", STEPS, *of)
    drill("do", "mill-end-4", *of, typed="lift\nquit\n")
    shown = drill("class", "show", book).stdout
    assert "under way" in shown
    assert "foreign-volts" in shown
    everything = json.loads(drill("class", "show", book, "--json").stdout)
    assert [one["handed_in"] for one in everything["attempts"]] == [1, 0]
    lines = drill("class", "csv", book, "readings").stdout.splitlines()
    assert lines[0] == "trainee,attempt,drill,number,t_s,meter,across,shown,logged"
    assert len(lines) == 8
    journal.write_text(drill("class", "journal", book, "1").stdout, encoding="utf-8")
    assert drill("verdict", str(journal)).exit_code == 0
    assert drill("class", "backup", book, str(tmp_path / "copy.db")).exit_code == 0
    assert drill("class", "delete", book, "Ann Other", "--yes").exit_code == 0
    assert "Ann Other" not in drill("class", "show", book).stdout


def test_seal_makes_what_ships(tmp_path: Path) -> None:
    """Sealed anew, an author's drill is the one that ships; without a folder it is printed."""
    into = tmp_path / "sealed"
    assert drill("seal", TANNERY, "--into", str(into)).exit_code == 0
    assert (into / "tannery-19.toml").read_text() == drill("seal", TANNERY).stdout
    assert drill("do", str(into / "tannery-19.toml"), "--steps", STEPS).exit_code == 0
