"""How the faults of a file are told: file, line, key, what was found, what was expected."""

import unicodedata
from collections.abc import Iterable

from farend_sim.errors import BadFileError, Problem


def problem_text(filename: str, line: int | None, problem: Problem) -> str:
    """One fault as a line of text."""
    place = filename if line is None else f"{filename}:{line}"
    path = f"{problem.path}: " if problem.path else ""
    text = f"{place}: {path}found {problem.found}, expected {problem.expected}"
    return text if problem.nearest is None else f"{text}; did you mean {problem.nearest!r}?"


def why(error: OSError) -> str:
    """What was found where a file could not be read, in plain words."""
    match error:
        case IsADirectoryError():
            return "a folder"
        case PermissionError():
            return "a closed file"
        case FileNotFoundError() | NotADirectoryError():
            return "no such file"
    return (error.strerror or "a file that cannot be opened").lower()


def bad_file(filename: str, problems: Iterable[tuple[int | None, Problem]]) -> BadFileError:
    """All faults of a file, in the order of its lines."""
    placed = sorted(problems, key=lambda at: at[0] or 0)
    return BadFileError("\n".join(problem_text(filename, *at) for at in placed))


def control_character(text: str) -> str | None:
    """The first character that would act on a terminal instead of being shown, as it is told."""
    for each in text:
        if unicodedata.category(each) == "Cc" and each not in "\n\t\r":
            return f"the control character {each!a}"
    return None
