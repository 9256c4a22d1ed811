"""The check's time against the number of commands' codes, beside the decoder by brute force."""

import time
from collections.abc import Callable
from dataclasses import replace

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.scheme_lab.check.explore import explore
from farend_sim.scheme_lab.check.model import Model
from farend_sim.scheme_lab.check.slip_matrix import matrix, slipped
from farend_sim.scheme_lab.check.words import words
from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.table import State
from tests.scheme_lab.walks import scheme
from tests.unit.story import listen

KEYS = "0123456789*#"


def with_commands(count: int) -> CompiledScheme:
    """A scheme with so many commands: `offset`'s, again and again with longer codes."""
    compiled = codes.compiled(scheme("offset"))
    commands = list(compiled.commands)
    while len(commands) < count:
        like = compiled.commands[len(commands) % 8]
        commands.append(replace(like, prefix=f"{len(commands):04}"))
    return replace(compiled, commands=tuple(commands[:count]))


def best_s(run: Callable[[], object], times: int = 3) -> float:
    """The shortest of some runs."""
    lasted = []
    for _ in range(times):
        begun = time.perf_counter()
        run()
        lasted.append(time.perf_counter() - begun)
    return min(lasted)


def brute(compiled: CompiledScheme) -> int:
    """Each slip of some words, keyed into the decoder itself."""
    count = 0
    for meant in words(compiled, 3):
        for _, _, keyed in slipped(compiled.knock + meant.keys, KEYS):
            listen(compiled, keyed, State.IDLE)
            count += 1
    return count


def test_slips_on_the_automaton_against_the_decoder(benchmark: BenchmarkFixture) -> None:
    """Slips a second: the automaton, which also keys a sequel, over the decoder itself."""
    compiled = with_commands(10)

    made = benchmark.pedantic(lambda: matrix(Model(compiled, KEYS)), rounds=3)

    assert made.slips > 0
    if benchmark.stats is not None:
        few = brute(compiled) / best_s(lambda: brute(compiled))
        many = made.slips / best_s(lambda: matrix(Model(compiled, KEYS)))
        print(
            f"\nslips a second: automaton {many:,.0f}, decoder {few:,.0f}: {many / few:.1f} times"
        )


@pytest.mark.parametrize("count", [10, 20, 40, 80, 160])
def test_exploring_grows_with_the_commands(benchmark: BenchmarkFixture, count: int) -> None:
    """Moments to explore grow as commands do; seconds, over those of ten commands."""
    ten, compiled = with_commands(10), with_commands(count)

    found = benchmark.pedantic(lambda: explore(Model(compiled, KEYS), by_hand=False), rounds=3)

    few = explore(Model(ten, KEYS), by_hand=False)
    assert len(found.came) <= len(few.came) * count / 10
    if benchmark.stats is not None:
        # each moment keeps the commands that may still come: more than linear, and not cubic
        base_s = best_s(lambda: explore(Model(ten, KEYS), by_hand=False))
        took_s = best_s(lambda: explore(Model(compiled, KEYS), by_hand=False))
        told = f"{len(found.came)} moments, {took_s:.3f} s, {took_s / base_s:.1f} times ten's"
        print(f"\n{count} commands: {told}")
