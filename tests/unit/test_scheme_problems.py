"""One mistake a test, and the words that name it."""

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import pytest

from farend_sim.unit.scheme import Lockout, Scheme
from farend_sim.unit.scheme_problems import problems
from farend_sim.unit.table import FUNCTIONS
from farend_sim.unit_file import UnitFile

Mend = Callable[[Scheme], Scheme]
SET_HOLD, STATUS = 8, 7


def with_command(at: int, **changed: Any) -> Mend:
    def mend(scheme: Scheme) -> Scheme:
        command = list(scheme.command)
        command[at] = replace(command[at], **changed)
        return replace(scheme, command=tuple(command))

    return mend


def with_cell(row: int, column: int, digit: int) -> Mend:
    def mend(scheme: Scheme) -> Scheme:
        table = [list(line) for line in scheme.check_table]
        table[row][column] = digit
        return replace(scheme, check_table=tuple(map(tuple, table)))

    return mend


def with_table(cell: Callable[[int, int], int]) -> Mend:
    table = tuple(tuple(cell(row, column) % 10 for column in range(10)) for row in range(10))
    return lambda scheme: replace(scheme, check_table=table)


def scheme_with(**changed: Any) -> Mend:
    return lambda scheme: replace(scheme, **changed)


def without_reply(name: str) -> Mend:
    return lambda scheme: replace(
        scheme, reply=tuple(reply for reply in scheme.reply if reply.name != name)
    )


def with_reply(name: str) -> Mend:
    return lambda scheme: replace(
        scheme, reply=(*scheme.reply, replace(scheme.reply[0], name=name))
    )


MISTAKES: list[tuple[Mend, str, str, str]] = [
    (scheme_with(knock="**"), "knock", "equal keys", "two different keys"),
    (scheme_with(unit_number="2x"), "unit_number", "'2x'", "digits"),
    (scheme_with(unit_number="91"), "command[0].code", "begins 911", "not call emergency"),
    (scheme_with(unit_number="11"), "command[1].code", "begins 112", "not call emergency"),
    (scheme_with(unit_number="99"), "command[9].code", "begins 999", "not call emergency"),
    (scheme_with(unit_number="04"), "unit_number", "begins 0", "not call an operator"),
    (scheme_with(keys="0123456789*#*"), "keys", "#*'", "each key once"),
    (scheme_with(keys="0123456789*#x"), "keys", "'x'", "keys out of"),
    (scheme_with(neighbours=("28", "2*")), "neighbours[1]", "'2*'", "digits"),
    (with_command(SET_HOLD, confirmed=True), "command[8].confirmed", "true", "beside an argument"),
    (scheme_with(end="**"), "end", "'**'", "one key"),
    (scheme_with(start="*"), "end", "'*'", "other than the start key"),
    (scheme_with(start="#"), "restart", "true", "neither starts nor ends"),
    (scheme_with(knock="1*"), "command[0].code", "'18'", "without '1', the restart key"),
    (scheme_with(keys="0123456789#*".replace("6", "")), "command[5].code", "'6'", "keys out of"),
    (with_command(2, code="3A"), "command[2].code", "'A'", "keys out of"),
    (with_command(2, code="3*"), "command[2].code", "'3*'", "without '*', the end key"),
    (with_command(2, code="18"), "command[2].code", "'18'", "other than strap's"),
    (with_command(2, code="850001"), "command[8].code", "beside '850001'", "read as another"),
    (with_command(2, does="strap"), "command[2].does", "'strap'", "one command"),
    (with_command(2, does="strap"), "command", "'ring-ground'", "one command"),
    (with_command(0, hold_s=901.0), "command[0].hold_s", "901", "within 5 to 900"),
    (with_command(0, hold_s=4.0), "command[0].hold_s", "4", "within 5 to 900"),
    (with_command(0, longest_s=None), "command[0].longest_s", "nothing", "ends by a timer"),
    (with_command(0, longest_s=600.0), "command[8].longest_s", "900", "the holds of strap"),
    (with_command(STATUS, hold_s=5.0), "command[7].hold_s", "5", "no hold but a function's"),
    (with_command(STATUS, argument_digits=2), "command[7].argument_digits", "status", "set-hold"),
    (with_command(SET_HOLD, argument_digits=0), "command[8].argument_digits", "0", "how many"),
    (with_command(SET_HOLD, longest_s=None), "command[8].longest_s", "nothing", "bounds"),
    (with_command(0, reply="acepted"), "command[0].reply", "'acepted'", "name of a reply"),
    (without_reply("awake"), "reply", "'awake'", "one for each"),
    (with_reply("over"), "reply[13].name", "'over'", "once"),
    (with_reply("status-strapped"), "reply[13].name", "'status-strapped'", "something sounds"),
    (
        lambda scheme: with_command(2, code="3#")(replace(scheme, check="command")),
        "command[2].code",
        "'3#'",
        "a check covers",
    ),
    (scheme_with(check_table=()), "check_table", "0 rows", "ten rows of ten"),
    (with_cell(3, 4, 1), "check_table[3]", "[1, 7, 5, 0, 1", "once in a row"),
    (with_cell(3, 4, 1), "check_table", "column 4", "once in a column"),
    (with_table(lambda row, column: column - row), "check_table", "after", "anti-symmetric"),
    (with_table(lambda row, column: row + column), "check_table[1]", "2 at row", "0 there"),
    (scheme_with(lockout=Lockout(refusals=3)), "lockout.lock_s", "0", "a time"),
]


def test_the_shipped_scheme_has_no_problem(scheme: Scheme):
    """What ships is right."""
    assert problems(scheme) == ()


@pytest.mark.parametrize(("mistake", "path", "found", "expected"), MISTAKES)
def test_each_mistake_is_named(scheme: Scheme, mistake: Mend, path: str, found: str, expected: str):
    """Path, what was found and what was expected: enough to mend it."""
    named = [
        problem
        for problem in problems(mistake(scheme))
        if problem.path == path and found in problem.found and expected in problem.expected
    ]

    assert named, problems(mistake(scheme))


def test_a_misspelt_reply_is_guessed(scheme: Scheme):
    """Whoever misspelt it is told what he meant."""
    (problem,) = problems(with_command(0, reply="acepted")(scheme))

    assert problem.nearest == "accepted"


def test_a_code_that_begins_another_is_trouble_without_an_end_key(scheme: Scheme):
    """Exact length saves nothing where a command acts at its last key."""
    longer = with_command(2, code="185")(scheme)

    assert problems(longer) == ()
    assert "command[2].code" in {problem.path for problem in problems(replace(longer, end=""))}


def test_every_unit_number_that_would_call_somebody_is_refused(scheme: Scheme):
    """All hundred two-digit numbers: those that may not be are these."""
    refused = [
        number
        for number in map("{:02}".format, range(100))
        if problems(replace(scheme, unit_number=number))
    ]

    assert refused == [f"0{digit}" for digit in range(10)] + ["11", "91", "99"]


def test_every_number_of_the_shipped_files_has_a_source(scheme: Scheme, profile: UnitFile):
    """A number without a source is a rumour."""
    for table in (profile.electrical, profile.timing):
        assert set(table.source) == {each.name for each in fields(table)} - {"source"}
    assert {"gap_s", "attention_s", "check_table", "unit_number", "reply"} <= set(scheme.source)
    assert all(command.source for command in scheme.command if command.does in FUNCTIONS)
