"""What can go wrong on this floor. A wrong digit is an event, never an exception."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches


class FarendError(Exception):
    """The root of this floor's errors."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of a file: where it is, what was found and what was expected."""

    path: str
    """The key's path in the file, such as `plant.section[1].length_m`; empty for the file."""
    found: str
    expected: str
    nearest: str | None = None
    """The nearest known key to a misspelt one."""


def nearest(word: str, known: Collection[str]) -> str | None:
    """The known word that a misspelt one is likely to mean."""
    return next(iter(get_close_matches(word, known, n=1)), None)


def unknown(
    path: str, word: str, known: Collection[str], expected: str = "", found: str = ""
) -> Problem:
    """A word that is none of those known."""
    expected = expected or f"one of {', '.join(known)}"
    return Problem(path, found or repr(word), expected, nearest(word, known))


def once(
    path: str, names: Iterable[str | None], taken: Iterable[str | None] = (), again: str = " again"
) -> Iterator[Problem]:
    """Names of a list of tables that are there already: each stands once."""
    known = set(taken)
    for index, name in enumerate(names):
        if name is not None and name in known:
            yield Problem(f"{path}[{index}].name", f"{name!r}{again}", "each name once")
        known.add(name)


def unsourced(source: Mapping[str, str], keys: Iterable[str], table: str = "") -> Iterator[Problem]:
    """Numbers of a table that do not say where they are from."""
    for key in keys:
        if not source.get(key, "").strip():
            yield Problem(f"{table}source.{key}", "no source", f"where {table}{key} is from")


class BadFileError(FarendError):
    """A file that a person must mend; its text names every fault with its line."""
