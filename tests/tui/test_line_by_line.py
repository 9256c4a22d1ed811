"""The plain mode: steps typed line by line, what came of each printed, no screen."""

import json

from click.testing import CliRunner, Result

from tui.commands import main


def worked(lines: str, *options: str) -> Result:
    """A good pair, worked by lines."""
    return CliRunner().invoke(main, ["run", "good-pair", "-i", *options], input=lines)


def test_the_same_words_as_a_steps_file() -> None:
    """Lines give the very rows that a file of them gives; `quit` ends it."""
    steps = "keys #*27\nlisten 2\nmeter volts tip-ring\nread\n"
    typed = worked(steps + "quit\nlisten 5\n", "--json")
    played = CliRunner().invoke(main, ["run", "good-pair", "--steps", "-", "--json"], input=steps)

    assert (typed.exit_code, typed.stdout) == (0, played.stdout)
    assert len(typed.stdout.splitlines()) == 4


def test_a_slip_is_told_and_the_work_goes_on() -> None:
    """What is no step changes nothing; the line and what was expected are told."""
    done = worked("listn 2\nlisten 2\n", "--json")

    assert "line 1: found 'listn'" in done.stderr
    assert "nearest known: 'listen'" in done.stderr or "listen" in done.stderr
    assert json.loads(done.stdout)["t_s"] == 2.0


def test_help_tells_every_step() -> None:
    """Every verb of the grammar, and how to leave."""
    shown = worked("help\n").stdout

    assert all(word in shown for word in ("keys DIGITS", "read", "go PLACE", "quit"))


def test_lines_or_a_file() -> None:
    """Both at once is bad input."""
    done = worked("", "--steps", "x.steps")

    assert (done.exit_code, done.stdout) == (2, "")
