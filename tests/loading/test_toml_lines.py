"""The line of every key of a TOML text is found."""

import json
import tomllib
from collections.abc import Iterator
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from farend_sim.loading.toml_lines import locate

NAMES = st.text("abcdefgh_.- \u2028é", min_size=1, max_size=6)
TEXTS = st.text("xyz []{}#=\"'\\\n\u2028", max_size=8)
LEAVES = st.one_of(st.integers(-9, 9), st.booleans(), TEXTS)
VALUES = st.recursive(
    LEAVES,
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(NAMES, inside, max_size=3),
    max_leaves=6,
)
TABLES = st.dictionaries(NAMES, VALUES, max_size=4)
DOCUMENTS = st.fixed_dictionaries(
    {"plain": TABLES, "tables": st.dictionaries(NAMES, TABLES, max_size=3)},
    optional={"lists": st.dictionaries(NAMES, st.lists(TABLES, min_size=1, max_size=3))},
)


def quoted(text: str) -> str:
    """A string or key as TOML has it: JSON's escapes are TOML's too."""
    return json.dumps(text, ensure_ascii=False)


def inline(value: Any) -> str:
    """A value as TOML on one line."""
    if isinstance(value, dict):
        return (
            "{" + ", ".join(f"{quoted(key)} = {inline(each)}" for key, each in value.items()) + "}"
        )
    if isinstance(value, list):
        return "[" + ", ".join(inline(each) for each in value) + "]"
    return quoted(value) if isinstance(value, str) else json.dumps(value)


def statements(document: dict[str, Any]) -> Iterator[str]:
    """A document's lines: what stands at the top, then tables, then lists of tables."""
    plain = {f"p{key}": value for key, value in document["plain"].items()}
    yield from (f"{quoted(key)} = {inline(value)}  # said" for key, value in plain.items())
    for name, table in document["tables"].items():
        yield from ("", f"[{quoted('t' + name)}]")
        yield from (f"{quoted(key)} = {inline(value)}" for key, value in table.items())
    for name, tables in document.get("lists", {}).items():
        for table in tables:
            yield from ("# one more", f"[[{quoted('l' + name)}]]")
            yield from (f"\t{quoted(key)} = {inline(value)}" for key, value in table.items())


def paths(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The paths of a parsed document, itself included."""
    yield path
    if isinstance(value, dict):
        for key, inside in value.items():
            yield from paths(inside, (*path, key))
    if isinstance(value, list):
        for index, inside in enumerate(value):
            yield from paths(inside, (*path, index))


@given(document=DOCUMENTS, newline=st.sampled_from(["\n", "\r\n"]))
def test_every_key_has_the_line_it_is_written_on(document: dict[str, Any], newline: str) -> None:
    """No key of a document is without a line, and that line holds the key."""
    lines = list(statements(document))
    text = newline.join(lines)

    found = locate(text)

    assert set(found) == set(paths(tomllib.loads(text)))
    for path, line in found.items():
        names = [part for part in path if isinstance(part, str)]
        assert not names or quoted(names[-1]) in lines[line - 1]


def test_items_of_a_list_over_lines_have_lines_of_their_own() -> None:
    """Of a list over several lines, each item is on the line that completes it."""
    text = 'a = 1\nb = [\n  1, # one\n  "]",\n\n  { c = 2 },\n  3 ]\nd = """\n[x]\n"""\ne = 4\n'

    found = locate(text)

    assert [found["b", 0], found["b", 1], found["b", 2, "c"], found["b", 3]] == [3, 4, 6, 7]
    assert (found["d",], found["e",]) == (8, 11)


def test_tables_within_lists_belong_to_the_newest_item() -> None:
    """A table below a list's name is of that list's last item so far."""
    found = locate("[[a]]\n[a.b]\nc = 1\n[[a]]\n[[a.d]]\nb.c = 1\n")

    assert found["a", 0, "b", "c"] == 3
    assert found["a", 1, "d", 0, "b", "c"] == 6
