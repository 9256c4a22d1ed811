"""What a check digit's table must be, for it to catch every wrong digit and every swap.

Source: H. M. Damm, dissertation, 2004; from memory.
"""

from collections.abc import Iterator
from itertools import combinations, product

from farend_sim.errors import Problem

_TEN = frozenset(range(10))
Table = tuple[tuple[int, ...], ...]


def table_problems(table: Table) -> Iterator[Problem]:
    """Say what is wrong; a table of the wrong shape is not looked at any further."""
    shape = sorted({len(row) for row in table})
    if len(table) != 10 or shape != [10]:
        found = f"{len(table)} rows of {' or '.join(map(str, shape)) or 'no'} digits"
        yield Problem("check_table", found, "ten rows of ten digits")
        return
    latin = list(_not_latin(table))
    yield from latin
    if not latin:
        yield from _asymmetry(table)


def _not_latin(table: Table) -> Iterator[Problem]:
    """A digit twice in a row or column would let one wrong digit through."""
    for at, row in enumerate(table):
        if set(row) != _TEN:
            yield Problem(f"check_table[{at}]", str(list(row)), "each digit once in a row")
    for at, column in enumerate(zip(*table, strict=True)):
        if set(column) != _TEN:
            found = f"column {at}: {list(column)}"
            yield Problem("check_table", found, "each digit once in a column")


def _asymmetry(table: Table) -> Iterator[Problem]:
    """Every number starts from 0, so a table may commute as long as no two digits do after one."""
    for at in range(10):
        if table[at][at] != 0:
            found = f"{table[at][at]} at row and column {at}"
            yield Problem(f"check_table[{at}]", found, "0 there, so that a sound number comes to 0")
    for so_far, (one, other) in product(range(10), combinations(range(10), 2)):
        if table[table[so_far][one]][other] == table[table[so_far][other]][one]:
            yield _swap_problem(f"{one} and {other} come to the same after {so_far}")


def _swap_problem(found: str) -> Problem:
    return Problem("check_table", found, "a totally anti-symmetric table: it catches every swap")
