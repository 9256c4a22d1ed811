"""The automaton's code languages against automata-lib: prefixes, clashes and what is accepted."""

from dataclasses import replace

import pytest
from automata.fa.dfa import DFA

from farend_sim.scheme_lab.automaton import Automaton, Place
from farend_sim.scheme_lab.words import values, word
from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme
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
        for value in values(command)
    }


def language(of: Scheme) -> DFA:
    """What our automaton takes in attention, up to the first command, as the library's DFA."""
    automaton = Automaton(codes.compile(of))
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
    spelt = every_word(codes.compile(of))

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
    compiled = codes.compile(of)
    told = bool(list(HAZARDS["clash"](of)))

    sets = []
    for command in compiled.commands:
        # Whatever digits stand for the argument: a clash is one of codes, not of values.
        fill = ["".join(digits) for digits in product_of(command.argument_digits)]
        checks = "0123456789" if command.checked_from is not None else [""]
        sets.append({command.prefix + a + c + command.end for a in fill for c in checks})
    clash = any(
        not disjoint(one, other, of.keys) for at, one in enumerate(sets) for other in sets[at + 1 :]
    )

    # Equal codes are told even where an end key and their lengths keep them apart.
    equal = len({command.code for command in of.command}) < len(of.command)
    assert told == (clash or equal)


def product_of(digits: int) -> list[str]:
    return [f"{n:0{digits}}" for n in range(10**digits)] if digits else [""]


def disjoint(one: set[str], other: set[str], keys: str) -> bool:
    """Whether no word of one is, or begins, a word of the other; by the library."""
    a = DFA.from_finite_language(language=one, input_symbols=set(keys))
    b = DFA.from_finite_language(language=other, input_symbols=set(keys))
    begins_a = DFA.from_finite_language(language=prefixes(one), input_symbols=set(keys))
    begins_b = DFA.from_finite_language(language=prefixes(other), input_symbols=set(keys))
    return a.isdisjoint(begins_b) and b.isdisjoint(begins_a)


def prefixes(words: set[str]) -> set[str]:
    return {each[:n] for each in words for n in range(1, len(each) + 1)}
