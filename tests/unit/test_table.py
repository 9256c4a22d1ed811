"""The table is complete, its holds are alike, and there is a way home from everywhere."""

from itertools import product
from typing import get_args

import pytest

from farend_sim.unit.contacts import REST, legal
from farend_sim.unit.machine import TableMachine
from farend_sim.unit.scheme import Event, StateName
from farend_sim.unit.table import AT_REST, DOES, HOLDS, SETTLED, TABLE, Action, Input, State

TIMERS = (Input.LAPSE, Input.OVER)


def test_every_state_answers_every_input():
    """What is ignored is ignored in writing."""
    assert set(product(State, Input)) == set(TABLE)


def test_an_ignored_input_changes_no_state():
    """To ignore is to stay."""
    ignored = {row: goal for row, (goal, action) in TABLE.items() if action is Action.IGNORE}

    assert {(state, given): state for state, given in ignored} == ignored


def test_every_state_can_be_reached():
    """No state is there for nothing."""
    reached = {State.IDLE}
    while new := {TABLE[state, given][0] for state in reached for given in Input} - reached:
        reached |= new

    assert set(State) == reached


@pytest.mark.parametrize("state", [state for state in State if state not in AT_REST])
def test_every_state_goes_home_by_a_timer(state: State):
    """A unit that is forgotten lets go of the pair."""
    assert State.IDLE in {TABLE[state, timer][0] for timer in TIMERS}


@pytest.mark.parametrize("given", Input)
def test_all_holds_answer_alike(given: Input):
    """The drawing shows one hold for all; that it may is this claim. Deafness is not written in."""
    answers = {
        ("stays" if TABLE[hold, given][0] is hold else TABLE[hold, given][0], TABLE[hold, given][1])
        for hold in HOLDS
        if Input.__members__.get(hold.name) is not given
    }

    assert len(answers) == 1


@pytest.mark.parametrize("state", State)
def test_without_power_nothing_but_power_matters(state: State):
    """Whatever the state, losing the battery leads to one place; from there only one way leads."""
    assert TABLE[state, Input.POWER_LOST][0] == State.UNPOWERED
    ways = [given for given in Input if TABLE[State.UNPOWERED, given][0] is not State.UNPOWERED]
    assert ways == [Input.POWER_BACK]


def test_every_state_settles_legally():
    """Each state has its contacts, and only states at rest leave the office on the pair."""
    assert set(State) == set(SETTLED)
    assert all(legal(closed) for closed in SETTLED.values())
    assert set(AT_REST) == {state for state in State if SETTLED[state] == REST}


def test_the_words_of_files_are_the_words_of_the_table():
    """A scheme file can name what the table has, and nothing else."""
    awake = {state.value for state in State} - {"unpowered", "asleep"}
    commands = tuple(given.value for given in Input if given.does == given.value)

    assert awake == set(get_args(StateName))
    assert commands == DOES
    assert set(get_args(Event)) <= {given.value for given in Input}


@pytest.mark.parametrize("state", State)
def test_the_machine_is_the_table(state: State):
    """The library, asked for every row, goes where the table says."""
    for given in Input:
        machine = TableMachine(state)

        assert TABLE[state, given][1] == machine.take(given)
        assert TABLE[state, given][0] == machine.state
