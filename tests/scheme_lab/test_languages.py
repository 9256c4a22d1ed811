"""The automaton's code languages against automata-lib: prefixes, clashes and what is accepted."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from automata.fa.dfa import DFA

from farend_sim.scheme_lab.check.automaton import Automaton, Place
from farend_sim.scheme_lab.check.words import word
from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledCommand, CompiledScheme
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.scheme_problems import HAZARDS
from farend_sim.unit.table import State
from tests.scheme_lab.walks import scheme

pytestmark = pytest.mark.outside


def every_word(of: CompiledScheme) -> set[str]:
    """All that a command can be keyed as, argument by argument."""
    return {
        word(of, at, value).keys
        for at, command in enumerate(of.commands)
        for value in command.values
    }


def language(of: Scheme) -> DFA:
    """What our automaton takes in attention, up to the first command, as the library's DFA."""
    automaton = Automaton(codes.compiled(of))
    start = automaton.opened(Place())
    ahead, states, moves = [start], {start}, {}
    while ahead:
        at = ahead.pop()
        for key in of.keys:
            # A command ends the word; what attention does after it, or after a refusal, is no code.
            place, act = automaton.key(at, key, State.ATTENTIVE)
            to = "taken" if act and act.command >= 0 else "lost" if act else place
            moves.setdefault(at, {})[key] = to
            if act is None and place not in states:
                states.add(place)
                ahead.append(place)
    ends = {"taken", "lost"}
    moves |= {end: dict.fromkeys(of.keys, "lost") for end in ends}
    return DFA(
        states=states | ends,
        input_symbols=set(of.keys),
        transitions=moves,
        initial_state=start,
        final_states={"taken"},
    )


@pytest.mark.parametrize("name", ["offset", "terse", "framed", "welded"])
def test_what_is_taken_is_what_is_spelt(name: str) -> None:
    """The automaton takes each command's words and no other, by the library's equivalence."""
    of = scheme(name)
    spelt = every_word(codes.compiled(of))

    ours = language(of)
    listed = DFA.from_finite_language(language=spelt, input_symbols=set(of.keys))

    assert ours == listed
    assert ours.cardinality() == len(spelt)


@pytest.mark.parametrize("code", ["18", "1", "185", "85", "851", "44", "9"])
@pytest.mark.parametrize("end", ["*", ""])
def test_clashes_are_the_librarys(code: str, end: str) -> None:
    """A code beside the others: prefixes that the library finds are those that are told."""
    offset = scheme("offset")
    commands = list(offset.command)
    commands[1] = replace(commands[1], code=code)
    of = replace(offset, command=tuple(commands), end=end)
    compiled = codes.compiled(of)
    told = bool(list(HAZARDS["clash"](of)))

    keyed = [whole_and_begun(each, of.keys) for each in compiled.commands]
    clash = any(
        not (one.isdisjoint(other_begun) and other.isdisjoint(one_begun))
        for (one, one_begun), (other, other_begun) in combinations(keyed, 2)
    )

    # Equal codes are told even where an end key and their lengths keep them apart.
    equal = len({command.code for command in of.command}) < len(of.command)
    assert told == (clash or equal)


@cache
def whole_and_begun(command: CompiledCommand, keys: str) -> tuple[DFA, DFA]:
    """A command's words and all that begins one, whatever digits stand for its argument."""
    digits = command.argument_digits + (command.checked_from is not None)
    fill = [f"{n:0{digits}}" for n in range(10**digits)] if digits else [""]
    whole = {command.prefix + each + command.end for each in fill}
    begun = {each[:n] for each in whole for n in range(1, len(each) + 1)}
    one, other = (
        DFA.from_finite_language(language=of, input_symbols=set(keys)) for of in (whole, begun)
    )
    return one, other
