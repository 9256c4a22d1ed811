"""The plain mode: steps typed line by line, what came of each printed, no screen."""

import json

from click.testing import CliRunner, Result

from farend_sim.bench.steps.grammar import VERBS
from farend_sim.files import load_situation
from tui.commands import main
from tui.plain.verbs_told import verbs_text


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
    """Every verb that the pair has a use for, and how to leave; another pair has others."""
    shown = worked("help\n").stdout
    other = CliRunner().invoke(main, ["run", "opened-both-ways", "-i"], input="help\n").stdout

    assert all(word in shown for word in ("keys DIGITS", "read", "quit"))
    assert ("go PLACE" in shown, "go PLACE" in other) == (False, True)


def test_every_verb_is_told() -> None:
    """Where a pair has a use for all of them, no verb of the grammar is without a word."""
    situation = load_situation("whole-job")

    lines = verbs_text(situation).splitlines()

    assert {line.split()[0] for line in lines if line[:3].strip()} - {"meters:"} == set(VERBS)


def test_the_card_is_at_hand() -> None:
    """Without a screen, the codes and what replies mean are a word away."""
    shown = worked("card\n").stdout

    assert all(word in shown for word in ("KNOCK", "18*", "refused"))


def test_lines_or_a_file() -> None:
    """Both at once is bad input."""
    done = worked("", "--steps", "x.steps")

    assert (done.exit_code, done.stdout) == (2, "")
