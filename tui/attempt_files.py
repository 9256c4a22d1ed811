"""Where attempts are kept, and which of them goes on: a file an attempt, numbered."""

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from farend_sim.drill.journal import read_journal
from farend_sim.errors import BadFileError
from tui.data_folder import data_folder

if TYPE_CHECKING:
    from farend_sim.drill.attempt import Attempt


def attempts_folder(trainee: str | None = None) -> Path:
    """The folder of a person's attempts."""
    folder = data_folder() / "attempts"
    return folder if trainee is None else folder / _plain(trainee)


def unfinished(drill: str, folder: Path) -> Path | None:
    """The last attempt at a drill, if it was not handed in."""
    last = _numbered(drill, folder)
    if not last:
        return None
    path = last[max(last)]
    return None if any("handed_in" in entry for entry in _entries(path)) else path


def next_path(drill: str, folder: Path) -> Path:
    """A file for a new attempt."""
    number = max(_numbered(drill, folder), default=0) + 1
    return folder / f"{drill}-{number}.jsonl"


def _numbered(drill: str, folder: Path) -> dict[int, Path]:
    pattern = re.compile(re.escape(drill) + r"-(\d+)\.jsonl")
    found = ((pattern.fullmatch(path.name), path) for path in folder.glob("*.jsonl"))
    return {int(match[1]): path for match, path in found if match}


def _entries(path: Path) -> list[dict[str, object]]:
    try:
        return read_journal(path)
    except BadFileError:
        return []  # resuming it tells what is wrong with it


def _plain(name: str) -> str:
    """A trainee's name as a folder's: what is no letter or digit is written as its number."""
    return "".join(c if c.isalnum() else f"%{ord(c):x}" for c in name)


def attempt_at(name: str, trainee: str | None = None) -> "Attempt":
    """Go on with a person's attempt at a drill that was not handed in, or begin one.

    Raises:
        BadFileError: the drill or the attempt has faults, or it is open elsewhere.
    """
    from farend_sim.drill import kept
    from farend_sim.drill.files import find_drill

    drill, folder = find_drill(name), attempts_folder(trainee)
    if (before := unfinished(drill.name, folder)) is not None:
        return kept.resume(before)
    begun = datetime.now(UTC).isoformat(timespec="seconds")
    return kept.start(
        drill, next_path(drill.name, folder), about={"begun": begun, "trainee": trainee}
    )


def done_before(name: str) -> str:
    """What came of a drill before, in a word or two; empty if it was never begun."""
    folder = attempts_folder()
    count = len(_numbered(name, folder))
    if not count:
        return ""
    return (
        "under way" if unfinished(name, folder) else f"done, {count} times" if count > 1 else "done"
    )
