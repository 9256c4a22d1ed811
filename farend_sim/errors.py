"""What can go wrong on this floor. A wrong digit is an event, never an exception."""

from dataclasses import dataclass


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


class BadFileError(FarendError):
    """A file that a person must mend; its text names every fault with its line."""
