"""The claim of the shipped scheme, by brute force over every single slip of the finger.

A wrong, missing, doubled or extra key, or two neighbours swapped, makes the addressed unit do what
was meant, nothing, or refuse; and whatever is keyed correctly afterwards means what it says.
"""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme, damm
from farend_sim.unit.decoder import Meant
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import HOLDS, Input, State
from tests.unit.story import listen, slips

KNOCK = "#*27"
HARMLESS = {Input.KNOCK, Input.REFUSE, Input.RESTART, Input.LAPSE}
STARTS = (State.IDLE, *HOLDS)


def done(heard: list[Meant]) -> list[Meant]:
    """Pick what the unit did, out of what it heard."""
    return [one for one in heard if one.input not in HARMLESS]


def is_part_of(some: list[Meant], whole: list[Meant]) -> bool:
    """Tell whether these were done in that order, with nothing in between but omissions."""
    rest = iter(whole)
    return all(one in rest for one in some)


def commands(compiled: CompiledScheme) -> Iterator[str]:
    for command in compiled.commands:
        if not command.argument_digits:
            yield command.prefix + command.end


def set_hold(compiled: CompiledScheme, seconds: int) -> str:
    digits = f"{seconds:03}"
    return f"85{digits}{damm(compiled.check_table, digits)}*"


def unsafe(compiled: CompiledScheme, keys: str, start: State, *, attentive: bool) -> list[str]:
    """Return the slips that do harm: something else is done, or a sound sequel is misread."""
    sequel = f"{KNOCK}96*"
    meant = done(listen(compiled, keys, start, attentive=attentive)[0])
    released = done(listen(compiled, sequel, start)[0])
    harmful = []
    for slip in slips(keys):
        alone, _ = listen(compiled, slip, start, attentive=attentive)
        followed, end = listen(compiled, slip + sequel, start, attentive=attentive)
        safe = is_part_of(done(alone), meant) and is_part_of(done(followed), meant + released)
        if not safe or end is not State.IDLE:
            harmful.append(slip)
    return harmful


def test_the_slips_are_all_there():
    """What is counted: for two keys, each kind of slip."""
    assert {"2", "1", "112", "122", "21", "13", "32", "*12", "1#2", "120"} <= slips("12")
    assert "12" not in slips("12")


@pytest.mark.parametrize("start", STARTS)
def test_no_slip_in_knock_and_command_does_harm(compiled: CompiledScheme, start: State):
    """From idle and from every hold, for every command without an argument."""
    for command in commands(compiled):
        assert unsafe(compiled, KNOCK + command, start, attentive=False) == []


@pytest.mark.parametrize("start", [State.ATTENTIVE, State.STRAP, State.OPEN])
def test_no_slip_in_two_commands_of_one_attention_does_harm(compiled: CompiledScheme, start: State):
    """A lost key must not weld the end of one command to the next."""
    for second in commands(compiled):
        for first in ("74*", set_hold(compiled, 120)):
            assert unsafe(compiled, first + second, start, attentive=True) == []


@pytest.mark.parametrize("start", HOLDS)
def test_no_slip_in_setting_a_hold_does_harm_from_any_hold(compiled: CompiledScheme, start: State):
    """Some values, every hold."""
    for seconds in range(5, 901, 179):
        keys = KNOCK + set_hold(compiled, seconds)
        assert unsafe(compiled, keys, start, attentive=False) == []


@pytest.mark.parametrize("hundreds", range(10))
def test_no_slip_sets_another_hold(compiled: CompiledScheme, hundreds: int):
    """Every value that can be set, and every slip in knock and command."""
    for seconds in range(max(5, 100 * hundreds), min(900, 100 * hundreds + 99) + 1):
        keys = KNOCK + set_hold(compiled, seconds)
        meant = done(listen(compiled, keys, State.IDLE)[0])
        assert [(one.input, one.hold_us) for one in meant] == [(Input.SET_HOLD, seconds * 10**6)]
        for slip in slips(keys):
            assert is_part_of(done(listen(compiled, slip, State.IDLE)[0]), meant), slip


def test_the_count_can_fail_without_an_end_key(scheme: Scheme):
    """A unit's last digit doubled welds to the code: strap becomes both legs to ground."""
    welded = codes.compiled(replace(scheme, unit_number="04", end=""))
    heard, end = listen(welded, "#*04418", State.IDLE)

    assert [one.input for one in done(heard)] == [Input.BOTH_GROUND]
    assert end is State.BOTH_GROUND


def test_the_count_can_fail_without_a_check_digit(scheme: Scheme):
    """One wrong digit would set another hold."""
    unchecked = codes.compiled(replace(scheme, check="none"))

    assert unsafe(unchecked, "85120*", State.ATTENTIVE, attentive=True) != []
